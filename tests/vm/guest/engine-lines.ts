/** J1939's electronic engine controller 1 at 1,000 rpm on vcan1, a hundred times a second. */
export function engineLines(seconds: number): string {
  return Array.from({ length: seconds * 100 }, (_, i) => {
    const time = (1_781_431_200 + i / 100).toFixed(6);
    return `(${time}) vcan1 0CF00400#F0FFFF401FFFFFFF\n`;
  }).join("");
}

/** Lines of two buses, in the order of their times. */
export function merged(...logs: readonly string[]): string {
  return `${logs.flatMap((log) => log.trimEnd().split("\n")).sort().join("\n")}\n`;
}
