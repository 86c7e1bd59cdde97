/** The first lines of a bus that is as full as it can be, as the host made them. */
export async function fullBus(most = Infinity): Promise<{ lines: string; sent: number }> {
  const text = await Deno.readTextFile("/full-bus.log");
  const lines = text.trimEnd().split("\n").slice(0, most);
  return { lines: `${lines.join("\n")}\n`.replaceAll(" can0 ", " vcan0 "), sent: lines.length };
}
