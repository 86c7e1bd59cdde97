import type { FrameSource } from "../../bus/frame-source.ts";
import { sayLength } from "../../rehearsal/run-words.ts";
import type { Terminal } from "../command-line/terminal.ts";

type Met = Pick<FrameSource, "counts" | "problems" | "title">;

/** Says what a source has met that a person should know; quiet where all was well. */
export function speakOfSource(source: Met, terminal: Terminal): void {
  const { counts, title } = source;
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
  speakOfMalformed(source, terminal);
  if (notes.length > 0) terminal.error(`${title}: passed over ${notes.join(", ")}.`);
  speakOfLosses(source, terminal);
  speakOfJumps(source, terminal);
}

/** The same for who keeps every frame that can be kept, and passes over none but FD. */
export function speakOfKept(source: Met, terminal: Terminal): void {
  speakOfMalformed(source, terminal);
  const flexible = sayCount(source.counts.fd, "CAN FD frame");
  if (flexible !== "") terminal.error(`${source.title}: passed over ${flexible}.`);
  speakOfLosses(source, terminal);
}

function speakOfMalformed({ counts, problems, title }: Met, terminal: Terminal): void {
  for (const { at, found, expected, recording } of problems) {
    const place = at === 0 ? recording ?? title : `${recording ?? title}:${at}`;
    terminal.error(`${place}: found ${found}; expected ${expected}.`);
  }
  const unsaid = counts.malformed - problems.filter(({ at }) => at > 0).length;
  if (unsaid > 0) terminal.error(`${title}: ${unsaid} more lines could not be read.`);
}

function speakOfLosses({ counts, title }: Met, terminal: Terminal): void {
  if (counts.dropped === 0) return;
  const [lost, they] = counts.dropped === 1 ? ["frame was", "it"] : ["frames were", "they"];
  terminal.error(`${title}: ${counts.dropped} ${lost} lost before ${they} could be read.`);
}

function speakOfJumps({ counts, title }: Met, terminal: Terminal): void {
  const { clockJumps, clockJumpedBy } = counts;
  if (clockJumps === 0) return;
  const by = sayLength(clockJumpedBy);
  const jumps = clockJumps === 1 ? `by ${by}` : `${clockJumps} times, by ${by} in all`;
  terminal.error(
    `${title}: the clock of the recording jumped forward ${jumps}, and the bus went on meanwhile; ` +
      "to the rules no time has passed there.",
  );
}

function sayCount(count: number, one: string, many = `${one}s`): string {
  return count === 0 ? "" : `${count} ${count === 1 ? one : many}`;
}

/** Ends every source soon after the person interrupts, or now if that has happened. */
export function stopWhen(interrupted: AbortSignal, sources: readonly FrameSource[]): void {
  const stop = () => sources.forEach((source) => source.stop());
  if (interrupted.aborted) stop();
  else interrupted.addEventListener("abort", stop, { once: true });
}

/** Says which recordings were cut off; false where there are none. */
export function speakOfEarlyEnd(sentences: readonly string[], terminal: Terminal): boolean {
  for (const sentence of sentences) terminal.error(`${sentence}. What lies before that was used.`);
  return sentences.length > 0;
}
