/**
 * A survey of the bus: who speaks, what is said, and what is missing. A pure observer of the pipeline
 * that `run` uses; what it found is plain data, which a person reads as text and a program as JSON.
 *
 * Order of calls: make one, give its `onSignals` to a `Watch`, feed that, then `report`.
 */
import type { BoatSignals } from "../boat/boat-signals.ts";
import { topicWord } from "../boat/naming.ts";
import type { Sender } from "../boat/subject-match.ts";
import { terminationWords } from "../boat/health/termination-words.ts";
import type { BusNames } from "../bus/bus-names.ts";
import { isoTime, type Micros, SECOND } from "../ground/time.ts";
import { FAILURE_MODES } from "../nmea2000/rows/diagnostics.ts";
import { SUSPECT_PARAMETERS } from "../nmea2000/suspect-parameters.ts";
import { roundTo } from "../units/rounding.ts";
import type { Watch } from "../watch.ts";
import { roundRate } from "./round-rate.ts";
import { draftBoat } from "./draft-boat.ts";
import { heardThings } from "./heard-things.ts";
import { NetworkObserver, type Quantity, type SecondFigures } from "./network-observer.ts";
import type { SurveyBus, SurveyReport, SurveyTroubleCode, SurveyUnknown } from "./report-schema.ts";
import { SignalObserver } from "./signal-observer.ts";
import { senderAt, surveyDevices } from "./survey-devices.ts";
import { missingSubjects, surveySignals } from "./survey-signals.ts";
import { unplacedMessages } from "./unplaced-messages.ts";

export interface SurveySetup {
  /** As a person named it. */
  readonly input: string;
  readonly busNames: BusNames;
}

/** What the input tells when it is over. */
export interface SurveyInput {
  readonly frames: number;
  /** Steady times; `begins` is NaN where no frame came. */
  readonly begins: Micros;
  readonly ends: Micros;
}

export class Survey {
  readonly #signals = new SignalObserver();
  readonly #networks = new NetworkObserver();
  readonly #contested = new Map<number, Map<string, Sender>>();
  #contestedVersion = 0;

  constructor(readonly setup: SurveySetup) {}

  /** To be called as a `Watch` calls it. */
  onSignals(signals: BoatSignals, by: "message" | "timer", now: Micros): void {
    if (by === "message") this.#signals.look(signals, now);
    else this.#networks.look(signals.table, now);
    if (signals.contestedVersion !== this.#contestedVersion) this.#followContests(signals);
  }

  report(watch: Watch, input: SurveyInput): SurveyReport {
    const { busNames } = this.setup;
    const wasHeard = !Number.isNaN(input.begins);
    const seconds = wasHeard ? (input.ends - input.begins) / SECOND : 0;
    const wall = (steady: Micros) => isoTime(watch.timeline.wallOf(steady), 3);
    const parts = { watch, busNames, seconds, wall };
    const devices = surveyDevices(parts);
    const things = heardThings(watch);
    const buses = Array.from({ length: busNames.count }, (_, bus) => busNames.nameOf(bus));
    const signals = surveySignals({
      ...parts,
      observations: this.#signals.observations,
      contested: this.#contested,
      end: input.ends,
    });
    const { boat } = watch.signals.binder;
    return {
      survey: 1,
      input: this.setup.input,
      boat: boat.name,
      begins: wasHeard ? wall(input.begins) : null,
      ends: wasHeard ? wall(input.ends) : null,
      seconds: roundTo(seconds, 3),
      frames: input.frames,
      devices,
      signals,
      missing: missingSubjects(boat, signals),
      unplaced: unplacedMessages(watch, busNames),
      troubleCodes: troubleCodesOf(watch, busNames),
      engines: [...watch.signals.table.subjectsOf("engine")]
        .toSorted((a, b) => a.localeCompare(b, "en", { numeric: true }))
        .map((engine) => ({
          engine,
          hours: signals.find(({ name }) => name === `engine/${engine}/hours`)?.value ?? null,
        })),
      buses: buses.map((bus, number) => this.#bus(watch, bus, number, input)),
      unknown: unknownOf(watch, busNames),
      draft: draftBoat({ things, devices, buses }),
    };
  }

  /** Whoever was once one of two senders is named, also when the contest is over by the end. */
  #followContests(signals: BoatSignals): void {
    this.#contestedVersion = signals.contestedVersion;
    for (const { senders, signals: numbers } of signals.contested()) {
      for (const signal of numbers) {
        const known = this.#contested.get(signal) ?? new Map<string, Sender>();
        this.#contested.set(signal, known);
        for (const sender of senders) known.set(`${sender.bus}/${sender.address}`, sender);
      }
    }
  }

  #bus(watch: Watch, bus: string, number: number, input: SurveyInput): SurveyBus {
    const { devices, assembler, health, signals } = watch;
    const network = signals.binder.boat.networks.find((one) => one.bus === bus)?.name ??
      topicWord(bus);
    const of = (quantity: Quantity) => this.#networks.of(network, quantity);
    const load = of("load");
    const errors = of("error-frames");
    const lost = of("lost-messages");
    const { lostBySource, malformedBySource, repeatedBySource } = assembler.counts;
    const errorFrames = health.errorFramesOf(number, input.ends);
    return {
      bus,
      load: load === undefined ? null : roundTo(load.sum / load.seconds, 1),
      highestLoad: load?.highest ?? null,
      errorFrames: errorFrames.all,
      errorFramesAtPowerUp: errorFrames.atPowerUp,
      errorKinds: errorFrames.kinds,
      lostMessages: lostBySource.subarray(number << 8, (number + 1) << 8)
        .reduce((sum, count) => sum + count, 0),
      gaps: of("gaps")?.last ?? 0,
      longestGap: Math.round(health.longestGapOf(number) / SECOND),
      addressConflicts: devices.conflicts(input.ends)
        .filter((conflict) => conflict.bus === number)
        .map(({ address, names }) => ({ address, names: [...names] })),
      supply: of("voltage")?.lowest ?? null,
      faulty: Array.from({ length: 256 }, (_, address) => ({
        sender: senderAt({ watch, busNames: this.setup.busNames }, number, address),
        lost: lostBySource[(number << 8) | address],
        malformed: malformedBySource[(number << 8) | address],
        repeated: repeatedBySource[(number << 8) | address],
      })).filter(({ lost, malformed, repeated }) => lost + malformed + repeated > 0),
      advice: terminationWords({
        errorFrames: worstSecond(errors),
        lostMessages: worstSecond(lost),
        busOff: (errorFrames.kinds["bus-off"] ?? 0) > 0,
        onlyErrors: errorFrames.all >= A_FEW && !health.hasCarried(number),
        overflows: errorFrames.kinds.overflow ?? 0,
      }) ?? "",
    };
  }
}

/** So many in a minute; one that is lost now and then is no reason to open the backbone. Judgement. */
const A_FEW = 5;

function worstSecond(figures: SecondFigures | undefined): number {
  return figures === undefined || figures.mostInMinute < A_FEW ? 0 : figures.highest;
}

function troubleCodesOf(watch: Watch, busNames: BusNames): SurveyTroubleCode[] {
  return watch.devices.troubleCodes.codes.map((code) => ({
    sender: senderAt({ watch, busNames }, code.bus, code.source),
    spn: code.spn,
    about: SUSPECT_PARAMETERS.get(code.spn) ?? null,
    fmi: code.fmi,
    failure: FAILURE_MODES[code.fmi] ?? null,
    occurrences: code.occurrences,
    active: code.isActive,
    oldLayout: code.oldLayout,
  }));
}

/** By maker, those that nobody knows last. */
function unknownOf(watch: Watch, busNames: BusNames): SurveyUnknown[] {
  return watch.devices.unknown.list.map((one) => ({
    manufacturerCode: one.manufacturerCode ??
      watch.devices.deviceAt(one.bus, one.source)?.parts.manufacturerCode ?? null,
    pgn: one.pgn,
    proprietary: one.isProprietary,
    sender: senderAt({ watch, busNames }, one.bus, one.source),
    count: one.count,
    rate: one.rate === null ? null : roundRate(one.rate),
    sample: [...one.sample].map((byte) => byte.toString(16).padStart(2, "0")).join(" "),
  })).toSorted((a, b) =>
    (a.manufacturerCode ?? Infinity) - (b.manufacturerCode ?? Infinity) || a.pgn - b.pgn
  );
}
