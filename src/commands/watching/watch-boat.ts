import { resolve } from "node:path";
import type { AlarmChange } from "../../alarms/change.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { changeLine } from "../../formats/change-lines.ts";
import type { Micros } from "../../ground/time.ts";
import type { BrokerState } from "../../outputs/mqtt/broker-link.ts";
import { USUAL_PLAN } from "../../store/history-plan.ts";
import { StoreError } from "../../store/store.ts";
import { Watch } from "../../watch.ts";
import { readAlarmMemory } from "./alarm-memory.ts";
import { BoatClock } from "./boat-clock.ts";
import { changeWords } from "./change-words.ts";
import type { Surroundings } from "../command-line/command.ts";
import { CommandFailure, ExitCode } from "../command-line/exit-codes.ts";
import { diskFree } from "./disk-free.ts";
import { Gateway, type Outlet } from "./gateway.ts";
import { HistoryKeeper } from "./history-keeper.ts";
import { keepKnowledge, readKnowledge } from "./kept-knowledge.ts";
import { openOutlets, type OutletsOrder } from "./open-outlets.ts";
import { ownHealth } from "./own-health.ts";
import { openSteadySource } from "../sources/open-steady-source.ts";
import { openStateFolder } from "./open-state-folder.ts";
import { speakOfEarlyEnd, speakOfSource, stopWhen } from "../sources/read-source.ts";
import { openProofRegister } from "./proof-register.ts";
import { realClock } from "./real-clock.ts";
import { RuleReload } from "./rule-reload.ts";
import { rulesInForce } from "../settings/rules-in-force.ts";
import type { Setup } from "../settings/setup.ts";
import { statusLine } from "./status-line.ts";

/** Everything that `run` and `demo` have settled before they begin to watch. */
export interface WatchOrder extends Setup, OutletsOrder {
  readonly around: Surroundings;
  /** State folder; without one nothing is kept. */
  readonly state: string | undefined;
  /** Changes of alarms as JSON Lines, in place of sentences. */
  readonly asJson: boolean;
  /** A scenario begins so long before now; what lies before is played at once. */
  readonly begunFor?: Micros;
}

/**
 * Watches a boat to the end of its inputs or until interrupted. Whatever cannot be opened ends the
 * command before anything was read; what was opened by then is closed again.
 */
export async function watchBoat(order: WatchOrder): Promise<ExitCode> {
  const { boat, inputFolder, asJson, begunFor } = order;
  const { terminal, folder, interrupted } = order.around;
  const say = (sentence: string) => terminal.error(sentence);
  const computer = realClock();
  const buses = new BusNames();
  let isFailing = false;
  const store = await openStateFolder(order.state, folder, say, (failing) => isFailing = failing);
  const outlets: Outlet[] = [];
  try {
    const { rules, isRefused } = await rulesInForce(order.ruleFiles, store, terminal);
    if (rules.length === 0) say("No rules are given, so nothing is judged: --rules FILE|DIR");
    const memory = await readAlarmMemory(store, say);
    const knowledge = await readKnowledge(store);
    // Without a folder and a broker nobody would ever read it.
    const keepsHistory = order.state !== undefined || order.broker !== undefined;
    const watch = new Watch({
      boat,
      rules,
      busNames: buses,
      memory,
      ...knowledge,
      onSignals: keepsHistory ? (_signals, _by, now) => keeper.follow(now) : undefined,
    });
    const clock = new BoatClock(computer, watch, say);
    outlets.push({ turn: (now) => clock.follow(now), stop: () => Promise.resolve() });
    const keeper = new HistoryKeeper({
      watch,
      history: store.history,
      plan: order.settings?.history ?? USUAL_PLAN,
      clock,
      say,
    });
    if (keepsHistory) {
      outlets.push({ turn: (now) => keeper.turn(now), stop: () => Promise.resolve() });
    }
    const print = (changes: readonly AlarmChange[]) => {
      const titles = new Map(watch.alarms.statuses().map(({ tag, title }) => [tag, title]));
      for (const change of changes) {
        const title = titles.get(change.tag) ?? change.tag;
        terminal.out(asJson ? changeLine(change) : changeWords(change, title));
      }
    };
    const gateway = new Gateway({
      watch,
      store,
      clock,
      outlets,
      interrupted,
      onChanges: print,
      onTrouble: sayOnce(say),
    });
    if (order.ruleFiles.length > 0) {
      outlets.push(
        new RuleReload({
          files: order.ruleFiles,
          read: order.rereadRules,
          store,
          clock: computer,
          setRules: (changed) => gateway.setRules(changed),
          noteRefused: (refused) => watch.noteRulesRefused(refused),
          say,
        }),
      );
      if (isRefused) watch.noteRulesRefused(true);
    }
    const sources = await Promise.all(
      order.inputs.map((input) =>
        openSteadySource(input, {
          ...{ buses, folder: inputFolder, clock: computer, begunFor, boat, say },
          onStep: (by) => clock.stepped(by),
        })
      ),
    );
    stopWhen(interrupted, sources);
    let broker: BrokerState | undefined;
    const status = statusLine({ watch, sources, terminal, clock, broker: () => broker });
    outlets.push(status, keepKnowledge({ watch, buses, store, clock }));
    // A recording is no watch over a boat.
    // Nor is a boat that is made up.
    watch.alarms.isProof = sources.some(({ live, madeUp }) => live && madeUp !== true);
    const register = order.state === undefined || !watch.alarms.isProof
      ? undefined
      : await openProofRegister({ watch, store, clock, say });
    if (register !== undefined) outlets.push(register);
    const state = order.state && resolve(folder, order.state);
    if (sources.some(({ live }) => live)) {
      outlets.push(ownHealth({
        watch,
        clock,
        askDisk: state ? () => diskFree(state) : undefined,
        isFailing: () => isFailing,
        broker: () => order.broker === "embedded" ? undefined : broker,
      }));
    }
    await openOutlets(order, {
      boat,
      watch,
      store,
      clock,
      state,
      answer: (answer, isAfar) => gateway.answer(answer, isAfar),
      setCondition: (condition) => gateway.setCondition(condition),
      say,
      proofs: register && (() => register.proofs()),
      onBroker: (state) => broker = state,
    }, outlets);

    const endedEarly = await gateway.follow(sources);
    say(status.words());
    for (const source of sources) speakOfSource(source, terminal);
    const cut = speakOfEarlyEnd(endedEarly, terminal);
    await keeper.finish();
    await gateway.close();
    return cut ? ExitCode.wrongInput : ExitCode.well;
  } catch (error) {
    const patience = AbortSignal.timeout(1_000);
    await Promise.all(outlets.map((outlet) => outlet.stop(patience).catch(() => {})));
    await store.close().catch(() => {});
    if (error instanceof StoreError) throw new CommandFailure(error.message);
    throw error;
  }
}

/** A fault that comes with every turn is told once. */
function sayOnce(say: (sentence: string) => void): (error: Error) => void {
  const said = new Set<string>();
  return ({ message }) => {
    if (said.has(message)) return;
    said.add(message);
    say(`Something went wrong inside, and the watch goes on: ${message}`);
  };
}
