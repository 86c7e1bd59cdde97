import { describe, expect, test } from "vitest";
import { resolve, senmlPack, type SenmlRecord, senmlUnit } from "../../src/formats/senml.ts";
import { historyPack } from "../../src/outputs/mqtt/history-payload.ts";
import { UNIT_CODES } from "../../src/units/codes.ts";

/** SenML as RFC 8428 has it: the examples of its §5.1, and the units of its §12.1. */

describe("the examples of RFC 8428 §5.1", () => {
  test("§5.1.1, a single value", () => {
    expect(read([{ n: "urn:dev:ow:10e2073a01080063", u: "Cel", v: 23.1 }])).toEqual([
      { n: "urn:dev:ow:10e2073a01080063", u: "Cel", v: 23.1, t: NOW },
    ]);
  });

  test("§5.1.2, base fields and their exceptions", () => {
    const resolved = read([
      {
        bn: "urn:dev:ow:10e2073a0108006:",
        bt: 1.276020076001e+09,
        bu: "A",
        bver: 5,
        n: "voltage",
        u: "V",
        v: 120.1,
      },
      { n: "current", t: -5, v: 1.2 },
      { n: "current", t: -4, v: 1.3 },
      { n: "current", t: -3, v: 1.4 },
      { n: "current", t: -2, v: 1.5 },
      { n: "current", t: -1, v: 1.6 },
      { n: "current", v: 1.7 },
    ]);
    expect(resolved[0]).toMatchObject({
      n: "urn:dev:ow:10e2073a0108006:voltage",
      u: "V",
      v: 120.1,
    });
    expect(resolved.slice(1).map(({ u, v }) => `${v} ${u}`)).toEqual(
      ["1.2 A", "1.3 A", "1.4 A", "1.5 A", "1.6 A", "1.7 A"],
    );
    expect(resolved.map(({ t }) => Math.round(t - 1.276020076e+09))).toEqual(
      [0, -5, -4, -3, -2, -1, 0],
    );
  });

  test("§5.1.3 becomes §5.1.4", () => {
    const bn = "urn:dev:ow:10e2073a01080063";
    const pack = [
      { bn, bt: 1.320067464e+09, bu: "%RH", v: 20 },
      { u: "lon", v: 24.30621 },
      { u: "lat", v: 60.07965 },
      { t: 60, v: 20.3 },
      { u: "lon", t: 60, v: 24.30622 },
      { u: "lat", t: 60, v: 60.07965 },
      { t: 120, v: 20.7 },
      { u: "lon", t: 120, v: 24.30623 },
      { u: "lat", t: 120, v: 60.07966 },
      { u: "%EL", t: 150, v: 98 },
      { t: 180, v: 21.2 },
      { u: "lon", t: 180, v: 24.30628 },
      { u: "lat", t: 180, v: 60.07967 },
    ];
    const n = bn;
    expect(read(pack)).toEqual([
      { n, u: "%RH", t: 1320067464, v: 20 },
      { n, u: "lon", t: 1320067464, v: 24.30621 },
      { n, u: "lat", t: 1320067464, v: 60.07965 },
      { n, u: "%RH", t: 1320067524, v: 20.3 },
      { n, u: "lon", t: 1320067524, v: 24.30622 },
      { n, u: "lat", t: 1320067524, v: 60.07965 },
      { n, u: "%RH", t: 1320067584, v: 20.7 },
      { n, u: "lon", t: 1320067584, v: 24.30623 },
      { n, u: "lat", t: 1320067584, v: 60.07966 },
      { n, u: "%EL", t: 1320067614, v: 98 },
      { n, u: "%RH", t: 1320067644, v: 21.2 },
      { n, u: "lon", t: 1320067644, v: 24.30628 },
      { n, u: "lat", t: 1320067644, v: 60.07967 },
    ]);
  });

  test("§5.1.5, every kind of value", () => {
    expect(read([
      { bn: "urn:dev:ow:10e2073a01080063:", n: "temp", u: "Cel", v: 23.1 },
      { n: "label", vs: "Machine Room" },
      { n: "open", vb: false },
      { n: "nfc-reader", vd: "aGkgCg" },
    ])).toMatchObject([{ v: 23.1 }, { vs: "Machine Room" }, { vb: false }, { vd: "aGkgCg" }]);
  });

  test("§5.1.6, a later base name takes the place of the first, the base time stays", () => {
    expect(
      read([
        {
          bn: "urn:dev:ow:10e2073a01080063:",
          bt: 1.320078429e+09,
          n: "temperature",
          u: "Cel",
          v: 1,
        },
        { n: "humidity", u: "%RH", v: 2 },
        { bn: "urn:dev:ow:10e2073a01080064:", n: "temperature", u: "Cel", v: 3 },
      ]).at(-1),
    ).toEqual({
      n: "urn:dev:ow:10e2073a01080064:temperature",
      u: "Cel",
      v: 3,
      t: 1320078429,
    });
  });
});

describe("what we write", () => {
  /**
   * RFC 8428 §12.1, table 6, without the symbols that are "not to be produced" (starred: 1/min, %,
   * l, l/s, …).
   */
  const REGISTERED = [
    ..."m kg g s A K cd mol Hz rad sr N Pa J W C V F Ohm S Wb T H Cel lm lx Bq Gy Sv kat".split(
      " ",
    ),
    ..."m2 m3 m/s m/s2 m3/s W/m2 cd/m2 bit bit/s lat lon pH dB dBW count / %RH %EL EL".split(" "),
    ..."1/s S/m B VA VAs var vars J/m kg/m3".split(" "),
  ];

  test("has registered units only", () => {
    const units = UNIT_CODES.flatMap((unit) => [
      senmlUnit(unit, "engine/port/speed").unit,
      senmlUnit(unit, "position/latitude").unit,
      senmlUnit(unit, "position/longitude").unit,
    ]).filter((unit) => unit !== undefined);
    expect(units.filter((unit) => !REGISTERED.includes(unit))).toEqual([]);
  });

  /** GNU units 2.22, each by `units -t '1 HAVE' 'WANT'`. */
  test.each(
    [
      ["1/min", 0.016666667],
      ["1/h", 0.00027777778],
      ["L/h", 2.7777778e-07],
      ["L", 0.001],
      ["h", 3600],
      ["min", 60],
      ["%", 0.01],
      ["deg", 0.017453293],
      ["deg/s", 0.017453293],
      ["A.h", 3600],
    ] as const,
  )("%s has the factor of GNU units", (unit, factor) => {
    expect(senmlUnit(unit, "x").factor / factor).toBeCloseTo(1, 7);
  });

  test("has valid names, one value a record, and whole resolved times", () => {
    const record = { name: "engine/port/speed", minute: 29690520, length: 5, count: 3 };
    const text = historyPack("sternfast/hazel-comfort/", "0011", [{
      number: 1,
      records: [
        { ...record, unit: "1/min", decimals: 0, min: 600, mean: 660, max: 720 },
        { ...record, name: "charger/shore/operating-state", word: "float" },
      ],
    }]);
    const pack = senmlPack.parse(JSON.parse(text));
    const resolved = resolve(pack, 0);
    // RFC 8428 §4.5.1.
    for (const { n } of resolved) expect(n).toMatch(/^[A-Za-z0-9][-A-Za-z0-9:./_]*$/);
    for (const { v, vs } of resolved) {
      expect([v, vs].filter((one) => one !== undefined)).toHaveLength(1);
    }
    expect(resolved.map(({ t }) => t)).toEqual(Array(6).fill(29690520 * 60));
    expect(resolved.find(({ n }) => n.endsWith("/speed/mean"))).toMatchObject({
      u: "1/s",
      v: 11,
      ut: 300,
    });
  });
});

const NOW = 1_781_431_923;

function read(pack: SenmlRecord[]) {
  return resolve(senmlPack.parse(JSON.parse(JSON.stringify(pack))), NOW);
}
