/**
 * How times are said on the page. The server writes them first and the browser goes on, so both
 * use this one file. Times are milliseconds since the epoch on the boat's clock.
 */

/**
 * A length of time in short: `2 s`, `6 min`, `3 h`, `2 d`; never in decimals.
 * @param {number} milliseconds
 * @returns {string}
 */
export function shortLength(milliseconds) {
  const seconds = Math.max(0, Math.floor(milliseconds / 1000));
  if (seconds < 90) return `${seconds} s`;
  if (seconds < 90 * 60) return `${Math.floor(seconds / 60)} min`;
  if (seconds < 36 * 3600) return `${Math.floor(seconds / 3600)} h`;
  return `${Math.floor(seconds / 86_400)} d`;
}

/**
 * A length of time within a sentence: `1 second`, `6 minutes`, `3 hours`.
 * @param {number} milliseconds
 * @returns {string}
 */
export function lengthInWords(milliseconds) {
  const [count, unit] = shortLength(milliseconds).split(" ");
  const word = { s: "second", min: "minute", h: "hour", d: "day" }[unit];
  return `${count} ${word}${count === "1" ? "" : "s"}`;
}

/**
 * `14:31:40` in a time zone, with the date before it where that is more than half a day away.
 * @param {number} at
 * @param {number} now
 * @param {string} timeZone IANA name
 * @returns {string}
 */
export function clockTime(at, now, timeZone) {
  /** @type {Intl.DateTimeFormatOptions} */
  const date = Math.abs(now - at) > 12 * 3_600_000 ? { day: "numeric", month: "long" } : {};
  return new Intl.DateTimeFormat("en-GB", {
    ...date,
    hour: "2-digit",
    minute: "2-digit",
    second: "2-digit",
    hourCycle: "h23",
    timeZone,
  }).format(at).replace(" at ", ", ");
}

/**
 * A `<time>` of the page in words: `ago` (`now`, `5 s ago`) or `for` (`for 5 s`).
 * @param {number} at
 * @param {number} now
 * @param {string} form
 * @returns {string}
 */
export function timeInWords(at, now, form) {
  if (form === "for") return `for ${shortLength(now - at)}`;
  return now - at < 2000 ? "now" : `${shortLength(now - at)} ago`;
}

/**
 * What stands over the page when nothing new has come.
 * @param {number} at
 * @param {number} now
 * @param {string} timeZone
 * @returns {string}
 */
export function noWordSince(at, now, timeZone) {
  return `No word from the boat since ${clockTime(at, now, timeZone)}, ` +
    `${lengthInWords(now - at)} ago. Everything below is from then, not from now.`;
}
