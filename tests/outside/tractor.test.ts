import { join } from "node:path";
import { expect, test } from "vitest";
import { needs, TRACTOR_DATA } from "../support/needs.ts";
import { recordingStory } from "../support/signal-story.ts";

// Values that stand beside the data, in its README: an open recording of a tractor's J1939 bus.
needs("tractor-data")("a real engine start, without a boat file", () => {
  const story = recordingStory(join(TRACTOR_DATA, "start1.log.gz"));
  const said = async (name: string) => (await story).said.get(name) ?? [];

  test("the speed: 69.5 when it first turns, 1010.5 at its peak", async () => {
    const speeds = await said("engine/can0-0/speed");
    expect(speeds.slice(0, 2)).toEqual([[37, "0"], [3196, "69.5"]]);
    const peak = Math.max(...speeds.map(([, what]) => Number(what)));
    expect(speeds.find(([, what]) => Number(what) === peak)).toEqual([4656, "1010.5"]);
  });

  test("the oil pressure: an error code, then none for seconds, then 388 kPa", async () => {
    expect((await said("engine/can0-0/oil-pressure")).slice(0, 6)).toEqual([
      [108, "bad out-of-range"],
      [608, "0"],
      [4608, "4000"],
      [5608, "40000"],
      [6107, "388000"],
      [6607, "408000"],
    ]);
  });

  test("the starter pulls the supply to 8.35 V", async () => {
    expect((await said("engine/can0-0/key-switch-voltage")).slice(0, 6)).toEqual([
      [389, "12.55"],
      [3388, "8.35"],
      [4388, "10.6"],
      [5388, "12.05"],
      [6388, "13.05"],
      [7388, "14.1"],
    ]);
  });

  test("and so the lowest volts while cranking are 8.35 V, once", async () => {
    const told = await said("engine/can0-0/cranking-voltage");
    expect(told.map(([, what]) => what)).toEqual(["8.35"]);
  });

  test("of another start they are the 9.8 V that came 8 ms before the engine was heard to turn", async () => {
    const { said } = await recordingStory(join(TRACTOR_DATA, "highRPM1.log.gz"));
    const volts = (said.get("engine/can0-0/key-switch-voltage") ?? []).slice(0, 3);
    expect(volts).toEqual([[384, "12.3"], [3382, "9.8"], [4382, "10"]]);
    expect(said.get("engine/can0-0/condition")?.[1]).toEqual([3390, "cranking"]);
    expect(said.get("engine/can0-0/cranking-voltage")?.map(([, what]) => what)).toEqual(["9.8"]);
  });

  test("hours, coolant temperature and the engine's condition", async () => {
    expect((await said("engine/can0-0/hours")).map(([, what]) => what)).toEqual(["147.55"]);
    expect((await said("engine/can0-0/coolant-temperature")).at(0)).toEqual([308, "29"]);
    expect((await said("engine/can0-0/condition")).map(([, what]) => what)).toEqual([
      "stopped",
      "cranking",
      "idling",
      "running",
      "idling",
      "stopped",
    ]);
  });

  test("other controllers than the engine's are no engines", async () => {
    const { watch } = await story;
    expect(watch.signals.table.subjectsOf("engine")).toEqual(["can0-0"]);
    expect(watch.signals.table.subjectsOf("controller")).toEqual(
      ["can0-6", "can0-71", "can0-3", "can0-23"],
    );
  });

  test("and with a boat file that says so, it is the wing engine", async () => {
    const { said } = await recordingStory(join(TRACTOR_DATA, "start1.log.gz"), {
      subjects: [{
        group: "engine",
        name: "wing",
        keys: [{ quantity: "self", bus: "can0", address: 0 }],
        words: {},
        numbers: {},
        relations: {},
      }],
    });
    expect(said.get("engine/wing/hours")?.map(([, what]) => what)).toEqual(["147.55"]);
    expect([...said.keys()].filter((name) => name.includes("can0-0"))).toEqual([]);
  });
});

needs("tractor-data")("an engine that never starts", () => {
  test("stays at 0 rpm and 0 kPa, with 12.3 to 12.55 V", async () => {
    const { said } = await recordingStory(join(TRACTOR_DATA, "noStartInGear1.log.gz"));
    const values = (name: string) => (said.get(name) ?? []).map(([, what]) => what);
    expect(values("engine/can0-0/speed")).toEqual(["0"]);
    expect(new Set(values("engine/can0-0/oil-pressure"))).toEqual(
      new Set(["bad out-of-range", "0"]),
    );
    const volts = values("engine/can0-0/key-switch-voltage").map(Number);
    expect(Math.min(...volts)).toBeGreaterThanOrEqual(12.3);
    expect(Math.max(...volts)).toBeLessThanOrEqual(12.55);
  });
});
