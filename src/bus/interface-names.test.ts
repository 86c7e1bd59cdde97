import { describe, expect, test } from "vitest";
import { BusNames } from "./bus-names.ts";
import { InterfaceNames } from "./interface-names.ts";

describe("interface names", () => {
  test("have one bus number each, in the order in which they are met", () => {
    const buses = new BusNames();
    const names = new InterfaceNames(buses);
    const text = new TextEncoder().encode("can0 can1 can0 can10");
    const found = [[0, 4], [5, 9], [10, 14], [15, 20], [5, 9]]
      .map(([from, to]) => names.numberOf(text, from, to));
    expect(found).toEqual([0, 1, 0, 2, 1]);
    expect(buses.nameOf(2)).toBe("can10");
  });

  test("are shared by the sources of a run", () => {
    const buses = new BusNames();
    expect(new InterfaceNames(buses).numberOfText("can1")).toBe(0);
    expect(new InterfaceNames(buses).numberOfText("can0")).toBe(1);
    expect(new InterfaceNames(buses).numberOfText("can1")).toBe(0);
  });

  test("are printable and short, or none", () => {
    const names = new InterfaceNames(new BusNames());
    expect(names.numberOfText("")).toBe("no-name");
    expect(names.numberOfText("fifteen-letters")).toBe(0);
    expect(names.numberOfText("sixteen-letters-")).toBe("no-name");
    expect(names.numberOfText("ca n0")).toBe("no-name");
    expect(names.numberOfText("bucht-ü")).toBe("no-name");
  });

  test("beyond sixteen are refused, the known ones are not", () => {
    const names = new InterfaceNames(new BusNames());
    for (let bus = 0; bus < 16; bus++) names.numberOfText(`can${bus}`);
    expect(names.numberOfText("can16")).toBe("too-many");
    expect(names.numberOfText("can3")).toBe(3);
  });

  test("give way to the name that the person gave, for one interface", () => {
    const buses = new BusNames();
    const names = new InterfaceNames(buses, "port-engine");
    expect(names.numberOfText("can0")).toBe(0);
    expect(names.numberOfText("can1")).toBe("second-name");
    expect(names.numberOfText("can0")).toBe(0);
    expect(buses.nameOf(0)).toBe("port-engine");
  });
});
