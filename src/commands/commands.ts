import type { Command } from "./command-line/command.ts";

/** What the list of commands says of one, and how it is got. */
export interface ListedCommand {
  /** One line for the list. */
  readonly summary: string;
  load(): Promise<Command>;
}

/**
 * Every command by its name, in the order in which the help lists them. Each is loaded when it is
 * asked for: broker, page and mail are half of the program, and a rehearsal needs none of them.
 */
export const COMMANDS: ReadonlyMap<string, ListedCommand> = new Map([
  ["run", {
    summary: "watch a boat: values on MQTT, alarms, your phone, the page",
    load: async () => (await import("./run.ts")).run,
  }],
  ["demo", {
    summary: "the same on a made-up boat: no hardware, no broker, nothing to set up",
    load: async () => (await import("./demo.ts")).demo,
  }],
  ["rehearse", {
    summary: "try your rules on recordings: what would they have told you?",
    load: async () => (await import("./rehearse.ts")).rehearse,
  }],
  ["survey", {
    summary: "listen and report: who talks, what is missing, a boat file to begin with",
    load: async () => (await import("./survey.ts")).survey,
  }],
  ["check", {
    summary: "find every mistake in your files, before the boat does",
    load: async () => (await import("./check.ts")).check,
  }],
  ["record", {
    summary: "keep what passes on the bus as recordings, packed",
    load: async () => (await import("./record.ts")).record,
  }],
  ["export", {
    summary: "print every value that was received, as CSV",
    load: async () => (await import("./export.ts")).exportCommand,
  }],
  ["hail", {
    summary: "a test message through every way to every person",
    load: async () => (await import("./hail.ts")).hail,
  }],
  ["ashore", {
    summary: "the shore side: boats' events and history kept at home, and boat not heard",
    load: async () => (await import("./ashore.ts")).ashore,
  }],
]);
