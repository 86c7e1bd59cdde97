import { describe, expect, test } from "vitest";
import {
  hostAndPort,
  isLoopback,
  ownNames,
  PageStartError,
  refuseOpenPage,
} from "./listening-address.ts";

describe("where the page listens", () => {
  test.each(["127.0.0.1", "127.0.1.1", "localhost", "::1", "[::1]"])(
    "%s is this computer itself",
    (hostname) => expect(isLoopback(hostname)).toBe(true),
  );

  test.each([
    "0.0.0.0",
    "::",
    "192.168.1.5",
    "boat.local",
    "127.0.0.1.example.org",
    "localhost.example.org",
    "",
  ])("%s is refused, with what to do instead", (hostname) => {
    const refuse = () => refuseOpenPage({ hostname, port: 8080 });
    expect(refuse).toThrow(PageStartError);
    expect(refuse).toThrow(/needs a passphrase.*use 127\.0\.0\.1:8080\.$/);
  });

  test("an address of version 6 is written in brackets", () => {
    expect(hostAndPort({ hostname: "::1", port: 80 })).toBe("[::1]:80");
    expect(hostAndPort({ hostname: "[::1]", port: 80 })).toBe("[::1]:80");
  });

  test("a browser leaves out the usual port, so its name without one is ours too", () => {
    expect(ownNames({ hostname: "127.0.0.1", port: 80 })).toContain("localhost");
    expect(ownNames({ hostname: "127.0.0.1", port: 8080 })).not.toContain("localhost");
  });
});
