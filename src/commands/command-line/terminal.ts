/** Where a command speaks: results on `out`, sentences on `error`. The real one is `realTerminal`. */
export interface Terminal {
  /** Adds the line's end. */
  out(line: string): void;
  error(line: string): void;
  /** Raw bytes of a result, as they are. */
  bytes(bytes: Uint8Array): void;
  /** One calm line that is written over and over; nothing where nobody watches a terminal. */
  status(line: string): void;
  readonly width: number;
}

const USUAL_WIDTH = 80;

export function realTerminal(): Terminal {
  const encoder = new TextEncoder();
  const watched = Deno.stderr.isTerminal();
  let statusShown = false;

  const write = (stream: typeof Deno.stdout, bytes: Uint8Array): void => {
    for (let at = 0; at < bytes.length;) at += stream.writeSync(bytes.subarray(at));
  };
  const wipe = (): void => {
    if (statusShown) write(Deno.stderr, encoder.encode("\r\x1b[2K"));
    statusShown = false;
  };
  const width = (): number => {
    try {
      // A terminal without a size says 0.
      return Deno.consoleSize().columns || USUAL_WIDTH;
    } catch {
      return USUAL_WIDTH;
    }
  };
  return {
    out(line) {
      wipe();
      write(Deno.stdout, encoder.encode(`${line}\n`));
    },
    error(line) {
      wipe();
      write(Deno.stderr, encoder.encode(`${line}\n`));
    },
    bytes(bytes) {
      write(Deno.stdout, bytes);
    },
    status(line) {
      if (!watched) return;
      const most = width() - 1;
      const shown = line.length > most ? `${line.slice(0, most - 1)}…` : line;
      write(Deno.stderr, encoder.encode(`\r\x1b[2K${shown}`));
      statusShown = true;
    },
    get width() {
      return width();
    },
  };
}
