import { check } from "./check.ts";
import { ashore } from "./ashore.ts";
import type { Command } from "./command-line/command.ts";
import { demo } from "./demo.ts";
import { exportCommand } from "./export.ts";
import { record } from "./record.ts";
import { hail } from "./hail.ts";
import { rehearse } from "./rehearse.ts";
import { run } from "./run.ts";
import { survey } from "./survey.ts";

/** Every command, in the order in which the help lists them. */
export const COMMANDS: readonly Command[] = [
  run,
  demo,
  rehearse,
  survey,
  check,
  record,
  exportCommand,
  hail,
  ashore,
];
