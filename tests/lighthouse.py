"""Prints Lighthouse's scores of one lesson of the built site: `make lighthouse`. Needs npx and a Chromium.

Run by hand, on a machine with nothing else to do: the score for performance is a wall-clock time made into a mark.
The site is served packed, as the common web servers do.
"""

import gzip
import json
import subprocess
import sys
import tempfile
import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from statistics import median

LIGHTHOUSE = "lighthouse@12.2.3"
PAGE = "lessons/06-a-first-tag/"
RUNS = 5
"""The mark for performance moves from run to run; the median says more than any one."""
GOALS = {"performance": 95, "accessibility": 100, "best-practices": 95}
FLAGS = "--headless --no-sandbox --disable-gpu --disable-background-networking --disable-component-update"
PACKED = ("text/", "application/json", "application/javascript")


class Packing(SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def log_message(self, *_args: object) -> None:
        pass

    def do_GET(self) -> None:
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        if not path.is_file():
            self.send_error(404)
            return
        kind, content = self.guess_type(path), path.read_bytes()
        self.send_response(200)
        self.send_header("Content-Type", f"{kind}; charset=utf-8" if kind.startswith("text/") else kind)
        if kind.startswith(PACKED):
            content = gzip.compress(content, 6)
            self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)


def scores(site: Path) -> dict[str, list[int]]:
    """Of 100, by category, one a run. Raises CalledProcessError where Lighthouse could not run."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Packing, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    with tempfile.TemporaryDirectory() as folder:
        runs = [_run(f"http://127.0.0.1:{server.server_port}/{PAGE}", Path(folder) / "report.json") for _ in range(RUNS)]
    server.shutdown()
    server.server_close()
    return {name: [round(100 * categories[name]["score"]) for categories in runs] for name in GOALS}


def _run(address: str, report: Path) -> dict:
    subprocess.run(["npx", "--yes", LIGHTHOUSE, address, "--quiet", "--output=json", f"--output-path={report}",
                    f"--chrome-flags={FLAGS}", f"--only-categories={','.join(GOALS)}"], check=True)
    return json.loads(report.read_text())["categories"]


if __name__ == "__main__":
    for name, all_runs in scores(Path(sys.argv[1])).items():
        score, goal = round(median(all_runs)), GOALS[name]
        print(f"{name:<16} {score:>4}   at least {goal}: {'met' if score >= goal else 'MISSED'}   {all_runs}")
