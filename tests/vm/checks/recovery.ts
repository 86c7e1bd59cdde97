import type { Check } from "../check.ts";
import { Listener } from "../guest/listener.ts";
import { same, sh, until } from "../guest/shell.ts";
import { makeVirtual, remove } from "../guest/witness.ts";

const send = (name: string, data: string) => sh(`cansend ${name} 18FF0001#${data}`);

/** Everything that may befall an interface, without a new start of ours. */
export const recoveryChecks: readonly Check[] = [
  {
    name: "an interface that is switched off and on goes on with the same socket",
    async run() {
      await makeVirtual("vcan0");
      const ours = await Listener.open("socketcan:vcan0");
      await send("vcan0", "01");
      await ours.heard(1);
      await sh("ip link set vcan0 down");
      await until("it is told", () => ours.kinds.includes("interface-down"));
      await sh("ip link set vcan0 up");
      await send("vcan0", "02");
      await ours.heard(2);
      await ours.stop();
      same(ours.kinds, ["connected", "interface-down", "interface-up"], "events");
      await remove("vcan0");
    },
  },
  {
    name: "an interface that is down at first is heard once it is up",
    async run() {
      await sh("ip link add vcan0 type vcan");
      const ours = await Listener.open("socketcan:vcan0");
      await until("it is told", () => ours.kinds.includes("interface-down"));
      await sh("ip link set vcan0 up");
      await send("vcan0", "01");
      await ours.heard(1);
      await ours.stop();
      same(ours.kinds, ["connected", "interface-down", "interface-up"], "events");
      await remove("vcan0");
    },
  },
  {
    name: "an interface that is not there yet is waited for, and said in a sentence",
    async run() {
      const ours = await Listener.open("socketcan:vcan0");
      same(ours.events[0], {
        kind: "refused",
        reason: "there is no network interface vcan0",
        retryIn: 200_000,
      }, "event");
      await makeVirtual("vcan0");
      await until("it connects", () => ours.kinds.includes("connected"));
      await send("vcan0", "01");
      await ours.heard(1);
      await ours.stop();
      await remove("vcan0");
    },
  },
  {
    name: "an interface that carries no CAN is refused with a sentence",
    async run() {
      const opening = Listener.open("socketcan:lo").then(() => "", (error) => error.message);
      same(await opening, "socketcan:lo: lo is no CAN interface.", "refusal");
    },
  },
  {
    name: "an interface that vanishes is opened anew when it is back",
    async run() {
      await makeVirtual("vcan0");
      const ours = await Listener.open("socketcan:vcan0");
      for (const turn of [1, 2, 3]) {
        await until(
          "it connects",
          () => ours.kinds.filter((kind) => kind === "connected").length === turn,
        );
        await send("vcan0", `0${turn}`);
        await ours.heard(turn);
        await remove("vcan0");
        await until(
          "the loss is told",
          () => ours.kinds.filter((kind) => kind === "lost").length === turn,
        );
        await makeVirtual("vcan0");
      }
      const lost = ours.events.find(({ kind }) => kind === "lost");
      same(lost, { kind: "lost", reason: "there is no such device", retryIn: 200_000 }, "event");
      await ours.stop();
      same(ours.frames, 3, "frames");
      await remove("vcan0");
    },
  },
  {
    name: "an interface that is made anew within a moment is still noticed",
    async run() {
      await makeVirtual("vcan0");
      const ours = await Listener.open("socketcan:vcan0");
      await sh("ip link del vcan0; ip link add vcan0 type vcan; ip link set vcan0 up");
      await until(
        "it connects again",
        () => ours.kinds.filter((kind) => kind === "connected").length === 2,
      );
      await send("vcan0", "01");
      await ours.heard(1);
      await ours.stop();
      await remove("vcan0");
    },
  },
  {
    name: "a step of the wall clock is told before the first frame stamped after it",
    async run() {
      await makeVirtual("vcan0");
      const ours = await Listener.open("socketcan:vcan0");
      await send("vcan0", "01");
      await ours.heard(1);
      const before = Date.now();
      await sh(`date -s @${Math.floor(before / 1000) + 86_400}`);
      await send("vcan0", "02");
      await ours.heard(2);
      await ours.stop();
      const steps = ours.events.filter((event) => event.kind === "clock-step");
      same(steps.length, 1, "steps");
      const by = steps[0].by / 1_000_000;
      if (Math.abs(by - 86_400) > 2) throw new Error(`the step was told as ${by} s`);
      const stamps = [...ours.lines.matchAll(/\((\d+)\./g)].map(([, seconds]) => Number(seconds));
      if (stamps[1] - stamps[0] < 86_000) throw new Error(`stamped ${stamps}`);
      await sh(`date -s @${Math.floor(before / 1000) + 5}`);
      await remove("vcan0");
    },
  },
];
