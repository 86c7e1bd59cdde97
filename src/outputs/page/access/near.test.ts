import { describe, expect, test } from "vitest";
import { isNear } from "./near.ts";

describe("whoever asks", () => {
  test.each([
    ...["127.0.0.1", "10.1.2.3", "172.31.0.9", "192.168.1.20", "169.254.3.4"],
    ...["::1", "::ffff:192.168.1.20", "fe80::1%eth0", "fd12:3456::1"],
  ])("from %s is near", (address) => expect(isNear(address, new Headers())).toBe(true));

  test.each([
    ...["172.32.0.1", "192.169.0.1", "100.64.0.1", "198.51.100.7", "::ffff:198.51.100.7"],
    ...["2001:db8::1", "", "localhost", "10.0.0.1.example.org"],
  ])("from %s is afar", (address) => expect(isNear(address, new Headers())).toBe(false));

  test.each(["forwarded", "x-forwarded-for"])("through a proxy that says %s is afar", (name) => {
    expect(isNear("127.0.0.1", new Headers({ [name]: "127.0.0.1" }))).toBe(false);
  });
});
