import { BUS_UNNAMED } from "../../alarms/compile/bus-unnamed.ts";
import { NOT_WATCHED } from "../../alarms/compile/not-watched.ts";
import { TWO_SENDERS } from "../../alarms/compile/two-senders.ts";
import type { RunRecord } from "../run-record.ts";

/** Why a built-in caution did not come for one subject; undefined for other tags. */
export function whyNotBuiltIn(
  { rules }: RunRecord,
  { tag, subject }: { readonly tag: string; readonly subject: string },
): string | undefined {
  if (tag === TWO_SENDERS) return "No two devices were heard to send the same of it.";
  if (tag === BUS_UNNAMED) return "It has a name, or no other bus spoke.";
  if (tag !== NOT_WATCHED) return undefined;
  const [watched, of] = subject.split("--");
  const about = rules.find((one) => one.tag === watched && one.subject === of);
  if (about === undefined) return `Nothing was heard of ${of}.`;
  return about.standing === "no-data"
    ? `Its rule is listed as one that never had what it needs: ${about.reason}.`
    : "Its rule was never unknown for a minute while it should have watched.";
}
