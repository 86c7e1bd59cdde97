import { describe, expect, test } from "vitest";
import { MILLISECOND, SECOND } from "../ground/time.ts";
import { Columns } from "./columns.ts";
import { BusNames } from "../bus/bus-names.ts";
import { deviceMemorySchema } from "./device-memory.ts";
import { ADDRESS_CLAIM, DeviceList, type DeviceRecall, MOST_DEVICES } from "./devices.ts";
import { encodeMessage, type WireValues } from "./encode.ts";
import { nameBytes } from "./name.ts";
import { ALL_ROWS } from "./rows/all.ts";
import {
  CONFIGURATION_INFORMATION,
  HEARTBEAT,
  PGN_LIST,
  PRODUCT_INFORMATION,
} from "./self-description.ts";

const columns = new Columns(ALL_ROWS);
const LOW = "c0328c0022a00001";
const HIGH = "c0328c0022a00002";

function messageOf(pgn: number, source: number, bytes: Uint8Array, bus = 0) {
  const row = columns.rowOf(pgn);
  return { row, pgn, source, destination: 255, bus, bytes, start: 0, length: bytes.length };
}

function listWith(recall?: DeviceRecall) {
  const list = new DeviceList(columns, recall);
  const say = (
    pgn: number,
    address: number,
    values: WireValues,
    groups: readonly WireValues[] = [],
    time = SECOND,
  ) => {
    const bytes = encodeMessage(ALL_ROWS[columns.rowOf(pgn)], values, groups);
    list.take(messageOf(pgn, address, bytes), time);
  };
  return {
    list,
    say,
    claim: (name: string, address: number, time = SECOND, bus = 0) =>
      list.take(messageOf(ADDRESS_CLAIM, address, nameBytes(name), bus), time),
    describe: (address: number, serial: string) =>
      say(PRODUCT_INFORMATION, address, { serial, model: "tank sender", "load-equivalency": 1 }),
  };
}

describe("a device", () => {
  test("is known by the NAME with which it claims its address", () => {
    const { list, claim } = listWith();
    expect(list.nameAt(0, 35)).toBeNull();
    claim(LOW, 35);
    expect(list.nameAt(0, 35)).toBe(LOW);
    expect(list.nameAt(1, 35)).toBeNull();
    expect(list.version).toBe(1);
    claim(LOW, 35, 2 * SECOND);
    expect(list.version).toBe(1);
  });

  test("keeps its identity at a new address", () => {
    const { list, claim, describe } = listWith();
    claim(LOW, 35);
    describe(35, "A-0042");
    const before = list.version;
    claim(LOW, 36, 2 * SECOND);
    expect(list.nameAt(0, 35)).toBeNull();
    expect(list.serialAt(0, 36)).toBe("A-0042");
    expect(list.serialAt(0, 35)).toBeNull();
    expect(list.version).toBeGreaterThan(before);
    expect([...list.devices]).toHaveLength(1);
  });

  test("leaves no stranger behind at the address that it had, unless another speaks there", () => {
    const { list, claim, say } = listWith();
    claim(LOW, 35);
    say(127505, 35, { instance: 0, level: 50 }, [], 2 * SECOND);
    claim(LOW, 36, 3 * SECOND);
    const device = list.device(0, LOW);
    if (device === null) throw new Error("it was heard to claim");
    expect(list.strangers()).toEqual([]);
    expect(list.formerAddresses(device)).toEqual([35]);
    say(127505, 35, { instance: 0, level: 50 }, [], 4 * SECOND);
    expect(list.strangers()).toEqual([{ bus: 0, address: 35, lastHeard: 4 * SECOND }]);
    expect(list.formerAddresses(device)).toEqual([]);
  });

  test("swaps its address with another, and neither is taken for the other", () => {
    const { list, claim } = listWith();
    claim(LOW, 35);
    claim(HIGH, 36);
    claim(HIGH, 35, 60 * SECOND);
    claim(LOW, 36, 60 * SECOND);
    expect([list.nameAt(0, 35), list.nameAt(0, 36)]).toEqual([HIGH, LOW]);
  });

  test("says who made it, once it has a NAME and not before", () => {
    const { list, claim, describe } = listWith();
    describe(35, "A-0041");
    claim(LOW, 35);
    expect(list.deviceAt(0, 35)?.product).toBeNull();
    describe(35, "A-0042");
    const { version } = list;
    describe(35, "A-0042");
    expect(list.version).toBe(version);
    expect(list.deviceAt(0, 35)?.product).toEqual({
      networkVersion: null,
      productCode: null,
      model: "tank sender",
      softwareVersion: null,
      modelVersion: null,
      serial: "A-0042",
      certificationLevel: null,
      loadEquivalency: 1,
    });
  });

  test("that can claim no address is known without one", () => {
    const { list, claim } = listWith();
    claim(LOW, 35);
    claim(LOW, 254, 2 * SECOND);
    expect(list.nameAt(0, 35)).toBeNull();
    expect(list.device(0, LOW)?.address).toBeNull();
  });

  test("was last heard when its address last spoke, and not by what others say there later", () => {
    const { list, claim } = listWith();
    claim(LOW, 35, SECOND);
    list.take(messageOf(127488, 35, new Uint8Array(8)), 5 * SECOND);
    const device = list.device(0, LOW);
    if (device === null) throw new Error("no device");
    expect(list.lastHeard(device)).toBe(5 * SECOND);
    claim(HIGH, 35, 60 * SECOND);
    list.take(messageOf(127488, 35, new Uint8Array(8)), 61 * SECOND);
    expect(list.lastHeard(device)).toBe(5 * SECOND);
  });

  test("is not made of a claim that is cut off", () => {
    const { list } = listWith();
    list.take(messageOf(ADDRESS_CLAIM, 35, nameBytes(LOW).subarray(0, 7)), SECOND);
    expect([...list.devices]).toEqual([]);
  });
});

describe("two devices that claim one address", () => {
  test("at once: the lower NAME wins, whichever comes first", () => {
    for (const names of [[LOW, HIGH], [HIGH, LOW]]) {
      const { list, claim } = listWith();
      claim(names[0], 35, SECOND);
      claim(names[1], 35, SECOND + 10 * MILLISECOND);
      expect(list.nameAt(0, 35)).toBe(LOW);
      expect(list.device(0, HIGH)?.address).toBeNull();
    }
  });

  test("at different times: the later one has it, unless the earlier one defends it", () => {
    const { list, claim } = listWith();
    claim(LOW, 35, SECOND);
    claim(HIGH, 35, 60 * SECOND);
    expect(list.nameAt(0, 35)).toBe(HIGH);
    claim(LOW, 35, 60 * SECOND + 10 * MILLISECOND);
    expect(list.nameAt(0, 35)).toBe(LOW);
  });

  test("on two buses do not meet", () => {
    const { list, claim } = listWith();
    claim(LOW, 35);
    claim(LOW, 35, SECOND, 1);
    claim(HIGH, 36, SECOND, 1);
    expect([list.nameAt(0, 35), list.nameAt(1, 35), list.nameAt(0, 36)]).toEqual([LOW, LOW, null]);
  });
});

describe("what a device says of itself", () => {
  test("is kept: the installer's words, its PGNs and its heartbeat", () => {
    const { list, claim, say } = listWith();
    claim(LOW, 35);
    say(CONFIGURATION_INFORMATION, 35, {
      "installation-1": "starboard tank",
      "manufacturer-information": "größte",
    });
    say(PGN_LIST, 35, { direction: "transmitted" }, [{ pgn: 127505 }, { pgn: 126993 }]);
    say(PGN_LIST, 35, { direction: "received" }, [{ pgn: 59904 }]);
    say(HEARTBEAT, 35, { interval: 60, "equipment-status": "fault", "controller-1": "bus-off" });
    expect(list.deviceAt(0, 35)).toMatchObject({
      configuration: {
        installation1: "starboard tank",
        installation2: null,
        manufacturerInformation: "größte",
      },
      transmits: [127505, 126993],
      receives: [59904],
      heartbeat: { interval: 60, equipment: "fault", controller1: "bus-off", controller2: null },
    });
  });

  test("calls for a new look only when it is new", () => {
    const { list, claim, say } = listWith();
    claim(LOW, 35);
    say(HEARTBEAT, 35, { interval: 60, "sequence-counter": 1 });
    const { version } = list;
    say(HEARTBEAT, 35, { interval: 60, "sequence-counter": 2 });
    expect(list.version).toBe(version);
    say(HEARTBEAT, 35, { interval: 60, "equipment-status": "fault" });
    expect(list.version).toBe(version + 1);
  });
});

describe("a device is heard", () => {
  test.each([[undefined, 180], [60, 180], [10, 30], [0.1, 3]])(
    "with a heartbeat each %s s, until %i s have passed",
    (interval, seconds) => {
      const { list, claim, say } = listWith();
      claim(LOW, 35);
      if (interval !== undefined) say(HEARTBEAT, 35, { interval });
      const device = list.device(0, LOW);
      if (device === null) throw new Error("no device");
      expect(list.isHeard(device, SECOND + seconds * SECOND)).toBe(true);
      expect(list.isHeard(device, SECOND + seconds * SECOND + 1)).toBe(false);
    },
  );
});

describe("two devices at one address", () => {
  const both = (claim: ReturnType<typeof listWith>["claim"], time: number) => {
    claim(LOW, 35, time);
    claim(HIGH, 35, time + 10 * MILLISECOND);
  };

  test("are a conflict when neither has left it after the grace", () => {
    const { list, claim } = listWith();
    both(claim, SECOND);
    expect(list.conflicts(30 * SECOND)).toEqual([]);
    expect(list.conflicts(32 * SECOND)).toMatchObject([
      { bus: 0, address: 35, names: [LOW, HIGH] },
    ]);
  });

  test.each([36, 254])("are none when the loser goes to %i, as at every power-up", (address) => {
    const { list, claim } = listWith();
    both(claim, SECOND);
    claim(HIGH, address, SECOND + 300 * MILLISECOND);
    expect(list.conflicts(60 * SECOND)).toEqual([]);
  });

  test("are none when one came long after the other: it took a place that was free", () => {
    const { list, claim } = listWith();
    claim(LOW, 35, SECOND);
    claim(HIGH, 35, 60 * SECOND);
    expect(list.conflicts(120 * SECOND)).toEqual([]);
  });

  test("are a conflict no more once a claim is left uncontested", () => {
    const { list, claim } = listWith();
    both(claim, SECOND);
    claim(LOW, 35, 60 * SECOND);
    expect(list.conflicts(61 * SECOND)).toEqual([]);
    both(claim, 100 * SECOND);
    expect(list.conflicts(129 * SECOND)).toEqual([]);
    both(claim, 140 * SECOND);
    expect(list.conflicts(141 * SECOND)).toMatchObject([{
      since: 100 * SECOND + 10 * MILLISECOND,
    }]);
  });
});

describe("a device of an earlier run", () => {
  const buses = new BusNames();
  buses.numberOf("can0");

  function remembered() {
    const { list, claim, describe, say } = listWith();
    claim(LOW, 35);
    describe(35, "A-0042");
    say(PGN_LIST, 35, { direction: "transmitted" }, [{ pgn: 127505 }]);
    return deviceMemorySchema.parse(JSON.parse(JSON.stringify(list.memory(buses))));
  }

  test("is known again where its claim is not heard, once its bus is", () => {
    const { list } = listWith({ devices: remembered(), busNames: buses });
    expect(list.nameAt(0, 35)).toBeNull();
    list.take(messageOf(127505, 35, new Uint8Array(8)), SECOND);
    expect(list.deviceAt(0, 35)).toMatchObject({
      name: LOW,
      isRemembered: true,
      product: { serial: "A-0042" },
      transmits: [127505],
    });
    expect(list.strangers()).toEqual([]);
  });

  test("is on its bus, whatever number that has now", () => {
    const renumbered = new BusNames();
    renumbered.numberOf("can1");
    renumbered.numberOf("can0");
    const { list } = listWith({ devices: remembered(), busNames: renumbered });
    list.take(messageOf(127505, 35, new Uint8Array(8), 0), SECOND);
    expect([...list.devices]).toEqual([]);
    list.take(messageOf(127505, 35, new Uint8Array(8), 1), SECOND);
    expect(list.nameAt(1, 35)).toBe(LOW);
  });

  test("yields its address to whoever claims it, and to another product there", () => {
    const recall = { devices: remembered(), busNames: buses };
    const claimed = listWith(recall);
    claimed.claim(HIGH, 35);
    expect(claimed.list.nameAt(0, 35)).toBe(HIGH);
    const told = listWith(recall);
    told.describe(35, "B-0001");
    expect(told.list.nameAt(0, 35)).toBeNull();
    expect(told.list.device(0, LOW)?.product?.serial).toBe("A-0042");
    expect(told.list.strangers()).toMatchObject([{ bus: 0, address: 35 }]);
  });

  test("is itself once it is heard to claim", () => {
    const { list, claim } = listWith({ devices: remembered(), busNames: buses });
    claim(LOW, 40);
    expect([list.nameAt(0, 35), list.serialAt(0, 40)]).toEqual([null, "A-0042"]);
    expect(list.deviceAt(0, 40)?.isRemembered).toBe(false);
  });

  test("is not forgotten where its bus is not heard", () => {
    const devices = remembered();
    const { list } = listWith({ devices, busNames: buses });
    expect(list.memory(buses)).toEqual(devices);
    list.take(messageOf(127505, 35, new Uint8Array(8)), SECOND);
    expect(list.memory(buses)).toEqual(devices);
  });
});

test("the list holds so many devices and no more, those with an address longest", () => {
  const { list, claim } = listWith();
  const nameOf = (number: number) => number.toString(16).padStart(16, "0");
  for (let i = 0; i < MOST_DEVICES + 100; i++) claim(nameOf(i), i < 5 ? 10 + i : 254, i * SECOND);
  expect([...list.devices]).toHaveLength(MOST_DEVICES);
  expect(list.nameAt(0, 14)).toBe(nameOf(4));
  expect(list.device(0, nameOf(5))).toBeNull();
});

test("messages are counted by sender and row", () => {
  const { list } = listWith();
  for (let i = 0; i < 100; i++) {
    list.take(messageOf(127488, 3, new Uint8Array(8)), i * 100 * MILLISECOND);
  }
  const row = columns.rowOf(127488);
  expect(list.tallies.of(0, 3)).toEqual([{ row, count: 100 }]);
  expect(list.tallies.of(0, 4)).toEqual([]);
});

test("what no row describes is counted apart", () => {
  const { list } = listWith();
  list.take(messageOf(130000, 3, Uint8Array.of(1, 2, 3)), SECOND);
  expect(list.unknown.list).toMatchObject([{ pgn: 130000, source: 3, count: 1 }]);
});
