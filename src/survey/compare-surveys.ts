import { sayWho } from "./device-words.ts";
import { chapter, table } from "./paper.ts";
import type { SurveyDevice, SurveyReport, SurveySignal } from "./report-schema.ts";
import { foldStatusBits } from "./status-bits.ts";
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

/**
 * Several reports of one time are the passes of a commissioning: what spoke in any of them spoke. At
 * least one of each.
 */
export function goneSince(
  earlier: readonly SurveyReport[],
  now: readonly SurveyReport[],
): GoneSince {
  const spokeNow = spokenIn(now);
  const namesNow = new Map(
    now.flatMap(({ signals }) => signals.map(({ name, verdict }) => [name, verdict])),
  );
  const devicesNow = now.flatMap(({ devices }) => devices);
  return {
    earlier: earlier[0].begins,
    devices: distinct(earlier.flatMap(({ devices }) => devices))
      .filter((device) => !devicesNow.some((one) => isSame(device, one))),
    signals: [...spokenIn(earlier).values()].filter(({ name }) => !spokeNow.has(name))
      .map((then) => ({ then, now: namesNow.get(then.name) ?? "not-heard" })),
  };
}

function spokenIn(reports: readonly SurveyReport[]): ReadonlyMap<string, SurveySignal> {
  const signals = reports.flatMap(({ signals }) => signals);
  return new Map(
    signals.filter(({ verdict }) => SPOKE.has(verdict)).map((signal) => [signal.name, signal]),
  );
}

function distinct(devices: readonly SurveyDevice[]): SurveyDevice[] {
  return devices.filter((device, i) => devices.findIndex((one) => isSame(device, one)) === i);
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
    ...signalRows(signals),
  ];
  return chapter(
    `Spoke on ${date} and not now`,
    rows.length === 0 ? ["  Nothing: whatever spoke then speaks now."] : table(rows),
  );
}

function signalRows(signals: readonly GoneSignal[]): string[][] {
  const words = new Map(signals.map(({ now, then }) => [then.name, VERDICT_WORDS[now]]));
  return foldStatusBits([...words.keys()], (name) => words.get(name) ?? "")
    .map(({ title, names: [first] }) => [title, words.get(first) ?? ""]);
}
