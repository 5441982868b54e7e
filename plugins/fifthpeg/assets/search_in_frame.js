/* On file:// a browser refuses worker scripts. There the search worker runs in a hidden frame instead:
 * the same messages to and fro, on the page's own thread.
 */
(function (root) {
  "use strict";
  if (root.location.protocol !== "file:") return;

  class SearchInFrame extends EventTarget {
    constructor(address) {
      super();
      this.waiting = [];
      const frame = document.createElement("iframe");
      frame.hidden = true;
      document.body.append(frame);
      const inside = frame.contentWindow;
      inside.postMessage = (data) => this.dispatchEvent(new MessageEvent("message", { data }));
      const script = inside.document.createElement("script");
      script.onload = () => {
        this.inside = inside;
        for (const data of this.waiting.splice(0)) this.postMessage(data);
      };
      script.onerror = () => this.dispatchEvent(new Event("error"));
      script.src = new URL(address, document.baseURI).href;
      inside.document.body.append(script);
      this.frame = frame;
    }

    postMessage(data) {
      if (!this.inside) this.waiting.push(data);
      else setTimeout(() => this.inside.dispatchEvent(new MessageEvent("message", { data })));
    }

    terminate() {
      this.frame.remove();
    }
  }

  root.Worker = SearchInFrame;
})(globalThis);
