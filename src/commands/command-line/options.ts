import type { OptionTable } from "./arguments.ts";

/** Options that several commands share (contract §1), each with one wording. */
export const HELP: OptionTable = { help: { help: "show this" } };

export const BOAT: OptionTable = {
  settings: {
    value: "FILE",
    help: "settings; else sternfast.yaml in this folder, else /etc/sternfast",
  },
  boat: { value: "FILE", help: "the boat file" },
};

export const RULES: OptionTable = {
  rules: {
    value: "FILE|DIR",
    repeatable: true,
    help: "rule file or folder of them; may be given again, a later one wins",
  },
};

export const JSON_LINES: OptionTable = { json: { help: "print JSON Lines for a program" } };
