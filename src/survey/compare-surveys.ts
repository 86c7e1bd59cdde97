import { sayWho } from "./device-words.ts";
import { chapter, paragraph, sayCount, table } from "./paper.ts";
import { isSameSender, renamedSignals } from "./renamed-signals.ts";
import type { SurveyDevice, SurveyReport, SurveySignal } from "./report-schema.ts";
import { foldStatusBits } from "./status-bits.ts";
import { type Verdict, VERDICT_WORDS } from "./verdict.ts";

/** What spoke in an earlier survey and does not now. */
export interface GoneSince {
  readonly earlier: string | null;
  readonly devices: readonly SurveyDevice[];
  readonly signals: readonly GoneSignal[];
  /** How many signals have other names now, and speak. */
  readonly renamed: number;
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
  const spokeThen = spokenIn(earlier);
  const silentNow = [...spokeThen.values()].filter(({ name }) => !spokeNow.has(name));
  const namesThen = new Set(earlier.flatMap(({ signals }) => signals.map(({ name }) => name)));
  const renamed = renamedSignals(
    silentNow.filter(({ name }) => !namesNow.has(name)),
    distinctSignals(now).filter(({ name }) => !namesThen.has(name)),
  );
  const speaksOtherwise = ({ name }: SurveySignal) =>
    SPOKE.has(renamed.get(name)?.verdict ?? "not-heard");
  return {
    earlier: earlier[0].begins,
    devices: distinct(earlier.flatMap(({ devices }) => devices))
      .filter((device) => !devicesNow.some((one) => isSameSender(device, one))),
    signals: silentNow.filter((then) => !speaksOtherwise(then)).map((then) => ({
      then,
      now: namesNow.get(then.name) ?? renamed.get(then.name)?.verdict ?? "not-heard",
    })),
    renamed: silentNow.filter(speaksOtherwise).length,
  };
}

/** Of several passes the last that tells of a signal. */
function distinctSignals(reports: readonly SurveyReport[]): SurveySignal[] {
  const signals = reports.flatMap(({ signals }) => signals);
  return [...new Map(signals.map((signal) => [signal.name, signal])).values()];
}

function spokenIn(reports: readonly SurveyReport[]): ReadonlyMap<string, SurveySignal> {
  const signals = reports.flatMap(({ signals }) => signals);
  return new Map(
    signals.filter(({ verdict }) => SPOKE.has(verdict)).map((signal) => [signal.name, signal]),
  );
}

function distinct(devices: readonly SurveyDevice[]): SurveyDevice[] {
  return devices.filter((device, i) => devices.findIndex((one) => isSameSender(device, one)) === i);
}

/** For the report: a chapter, also where nothing is gone. */
export function goneWords(gone: GoneSince): string[] {
  const { devices, earlier, renamed, signals } = gone;
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
  const also = renamed === 0 ? [] : paragraph(
    `${sayCount(renamed, "signal")} of then ${
      renamed === 1 ? "has another name" : "have other names"
    } ` +
      "now: by another boat file, or instances that were set anew.",
    2,
  );
  return chapter(`Spoke on ${date} and not now`, [
    ...(rows.length === 0 ? ["  Nothing: whatever spoke then speaks now."] : table(rows)),
    ...also,
  ]);
}

function signalRows(signals: readonly GoneSignal[]): string[][] {
  const words = new Map(signals.map(({ now, then }) => [then.name, VERDICT_WORDS[now]]));
  return foldStatusBits([...words.keys()], (name) => words.get(name) ?? "")
    .map(({ title, names: [first] }) => [title, words.get(first) ?? ""]);
}
