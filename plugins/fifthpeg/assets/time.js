/* Exact time. Fractions are [numerator, denominator] in quarter notes, as the page's data holds them.
 *
 * The one rule for frames is shared with the Python mixer: a moment falls on frame
 * floor(x + 1/2), x = quarters * 60 * rate / quarters per minute, with no rounding on the way.
 */
(function (root) {
  "use strict";
  const fifthpeg = (root.fifthpeg = root.fifthpeg || {});
  if (fifthpeg.time) return;

  const SECONDS_PER_MINUTE = 60;

  /** The frame a moment falls on. rateHz is a whole number of frames a second. */
  function frameOf(quarters, quartersPerMinute, rateHz) {
    const top = product(quarters[0], SECONDS_PER_MINUTE, rateHz, quartersPerMinute[1]);
    const bottom = product(quarters[1], quartersPerMinute[0]);
    return Number(floorDivide(2n * top + bottom, 2n * bottom));
  }

  /** The moment that falls on a frame exactly: frameOf gives the frame back. */
  function quartersAt(frame, quartersPerMinute, rateHz) {
    return lowest(product(frame, quartersPerMinute[0]), product(SECONDS_PER_MINUTE, rateHz, quartersPerMinute[1]));
  }

  /** The product of two fractions, in lowest terms. */
  function times(one, other) {
    return lowest(product(one[0], other[0]), product(one[1], other[1]));
  }

  /** The sum of two fractions, in lowest terms. */
  function plus(one, other) {
    return lowest(product(one[0], other[1]) + product(other[0], one[1]), product(one[1], other[1]));
  }

  /** One less another, in lowest terms. */
  function less(one, other) {
    return plus(one, [-other[0], other[1]]);
  }

  /** -1, 0 or 1, as one lies before, on or after the other. */
  function compare(one, other) {
    const gap = product(one[0], other[1]) - product(other[0], one[1]);
    return gap < 0n ? -1 : gap > 0n ? 1 : 0;
  }

  /** For showing and for the cursor only; samples are placed by frameOf. */
  function decimal(fraction) {
    return fraction[0] / fraction[1];
  }

  /** The tempo as a player counts it, to the nearest whole beat a minute. */
  function beatsPerMinute(quartersPerMinute, beatQuarters) {
    const [top, bottom] = times(quartersPerMinute, [beatQuarters[1], beatQuarters[0]]);
    return Math.round(top / bottom);
  }

  function product(...numbers) {
    return numbers.reduce((sofar, number) => sofar * BigInt(number), 1n);
  }

  function floorDivide(top, bottom) {
    const whole = top / bottom;
    return top % bottom !== 0n && top < 0n !== bottom < 0n ? whole - 1n : whole;
  }

  function lowest(top, bottom) {
    let [shared, rest] = [top < 0n ? -top : top, bottom];
    while (rest) [shared, rest] = [rest, shared % rest];
    return [Number(top / shared), Number(bottom / shared)];
  }

  fifthpeg.time = Object.freeze({ frameOf, quartersAt, times, plus, less, compare, decimal, beatsPerMinute });
  if (typeof module === "object") module.exports = fifthpeg.time;
})(globalThis);
