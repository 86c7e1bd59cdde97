/** A real server that gives whoever calls the same lines, and then stays on the line. */
export function lineServer(lines: string): { readonly port: number; close(): void } {
  const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
  const bytes = new TextEncoder().encode(lines);
  const give = async (connection: Deno.Conn): Promise<void> => {
    const writer = connection.writable.getWriter();
    await writer.write(bytes);
    for await (const _ of connection.readable);
  };
  (async () => {
    for await (const connection of listener) give(connection).catch(() => {});
  })().catch(() => {});
  return { port: (listener.addr as Deno.NetAddr).port, close: () => listener.close() };
}
