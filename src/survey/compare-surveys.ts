import { sayWho } from "./device-words.ts";
import { chapter, table } from "./paper.ts";
import type { SurveyDevice, SurveyReport, SurveySignal } from "./report-schema.ts";
import { type Verdict, VERDICT_WORDS } from "./verdict.ts";

/** What spoke in an earlier survey and does not now. */
export interface GoneSince {
  readonly earlier: string | null;
  readonly devices: readonly SurveyDevice[];
  readonly signals: readonly GoneSignal[];
}

export interface GoneSignal {
  readonly then: SurveySignal;
  /** "not-heard" also where there is no such signal any more. */
  readonly now: Verdict;
}

/** Signals that could be heard then, whatever was thought of them. */
const SPOKE: ReadonlySet<Verdict> = new Set(["talking", "frozen", "two-senders", "implausible"]);
const QUIET: ReadonlySet<Verdict> = new Set(["not-heard", "not-available"]);

export function goneSince(earlier: SurveyReport, now: SurveyReport): GoneSince {
  const verdicts = new Map(now.signals.map(({ name, verdict }) => [name, verdict]));
  return {
    earlier: earlier.begins,
    devices: earlier.devices.filter((device) => !now.devices.some((one) => isSame(device, one))),
    signals: earlier.signals.filter(({ verdict }) => SPOKE.has(verdict))
      .map((then) => ({ then, now: verdicts.get(then.name) ?? "not-heard" }))
      .filter((signal) => QUIET.has(signal.now)),
  };
}

/** A NAME is for life; who never told one is known only by bus and address. */
function isSame(then: SurveyDevice, now: SurveyDevice): boolean {
  if (then.name !== null && now.name !== null) return then.name === now.name;
  return then.bus === now.bus && then.address === now.address;
}

/** For the report: a chapter, also where nothing is gone. */
export function goneWords(gone: GoneSince): string[] {
  const { devices, earlier, signals } = gone;
  const date = earlier === null ? "the earlier survey" : earlier.slice(0, 10);
  const rows = [
    ...devices.map((device) => [
      device.address === null
        ? `${device.model ?? device.name ?? "a device"}`
        : sayWho({ ...device, address: device.address }),
      "device not heard",
    ]),
    ...signals.map(({ now, then }) => [then.name, VERDICT_WORDS[now]]),
  ];
  return chapter(
    `Spoke on ${date} and not now`,
    rows.length === 0 ? ["  Nothing: whatever spoke then speaks now."] : table(rows),
  );
}
