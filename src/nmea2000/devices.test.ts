import { describe, expect, test } from "vitest";
import { MILLISECOND, SECOND } from "../ground/time.ts";
import { Columns } from "./columns.ts";
import { ADDRESS_CLAIM, DeviceList, PRODUCT_INFORMATION } from "./devices.ts";
import { encodeMessage } from "./encode.ts";
import { nameBytes } from "./name.ts";
import { ALL_ROWS } from "./rows/all.ts";

const columns = new Columns(ALL_ROWS);
const LOW = "c0328c0022a00001";
const HIGH = "c0328c0022a00002";

function messageOf(pgn: number, source: number, bytes: Uint8Array, bus = 0) {
  const row = columns.rowOf(pgn);
  return { row, pgn, source, destination: 255, bus, bytes, start: 0, length: bytes.length };
}

function listWith() {
  const list = new DeviceList(columns);
  return {
    list,
    claim: (name: string, address: number, time = SECOND, bus = 0) =>
      list.take(messageOf(ADDRESS_CLAIM, address, nameBytes(name), bus), time),
    describe: (address: number, serial: string) => {
      const bytes = encodeMessage(ALL_ROWS[columns.rowOf(PRODUCT_INFORMATION)], {
        serial,
        model: "tank sender",
        "load-equivalency": 1,
      });
      list.take(messageOf(PRODUCT_INFORMATION, address, bytes), SECOND);
    },
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
