import type { SignalStory } from "./signal-story.ts";

/** What a signal read at one second of the story and what it said up to another, each once. */
export function between(
  { said }: SignalStory,
  name: string,
  from: number,
  to: number = Infinity,
): string[] {
  const all = said.get(name) ?? [];
  const before = all.filter(([at]) => at < from * 1000).slice(-1);
  const after = all.filter(([at]) => at >= from * 1000 && at < to * 1000);
  return [...new Set([...before, ...after].map(([, what]) => what))];
}

/** Those of them that are numbers. */
export function numbers(words: readonly string[]): number[] {
  return words.map(Number).filter((number) => !Number.isNaN(number));
}
