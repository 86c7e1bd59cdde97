import type { FrameSource } from "../bus/frame-source.ts";
import { SourceEndedEarly } from "../bus/frame-source.ts";
import { ExitCode } from "./exit-codes.ts";
import type { Terminal } from "./terminal.ts";

/** Says what a source has met that a person should know; quiet where all was well. */
export function speakOfSource(source: FrameSource, terminal: Terminal): void {
  const { counts, problems, title } = source;
  for (const { at, found, expected, recording } of problems) {
    const place = at === 0 ? recording ?? title : `${recording ?? title}:${at}`;
    terminal.error(`${place}: found ${found}; expected ${expected}.`);
  }
  const unsaid = counts.malformed - problems.filter(({ at }) => at > 0).length;
  if (unsaid > 0) terminal.error(`${title}: ${unsaid} more lines could not be read.`);
  const notes = [
    sayCount(counts.remote, "remote request"),
    sayCount(counts.error, "error frame"),
    sayCount(counts.fd, "CAN FD frame"),
    sayCount(
      counts.standard,
      "frame with an 11-bit identifier",
      "frames with an 11-bit identifier",
    ),
  ].filter((note) => note !== "");
  if (notes.length > 0) terminal.error(`${title}: passed over ${notes.join(", ")}.`);
  if (counts.dropped > 0) {
    terminal.error(`${title}: ${counts.dropped} frames were lost before they could be read.`);
  }
}

function sayCount(count: number, one: string, many = `${one}s`): string {
  return count === 0 ? "" : `${count} ${count === 1 ? one : many}`;
}

/**
 * Does something with a source to its end. A recording that ends early was used up to there; that is
 * said in one sentence, and is the exit code.
 */
export async function readToEnd(
  read: () => Promise<void>,
  terminal: Terminal,
): Promise<ExitCode> {
  try {
    await read();
    return ExitCode.well;
  } catch (error) {
    if (!(error instanceof SourceEndedEarly)) throw error;
    speakOfEarlyEnd([error.message], terminal);
    return ExitCode.wrongInput;
  }
}

/** Says which recordings were cut off; false where there are none. */
export function speakOfEarlyEnd(sentences: readonly string[], terminal: Terminal): boolean {
  for (const sentence of sentences) terminal.error(`${sentence}. What lies before that was used.`);
  return sentences.length > 0;
}
