import { describe, expect, test } from "vitest";
import { connectionTo } from "./mail-server.ts";

const from = "hazel-comfort@boat.example";

describe("a connection to a mail server", () => {
  test("is by TLS from the first byte, or by STARTTLS and not without", () => {
    expect(connectionTo({ address: "smtps://mail.example", from })).toMatchObject({
      host: "mail.example",
      port: 465,
      secure: true,
    });
    expect(connectionTo({ address: "smtp://mail.example:2525", from })).toMatchObject({
      port: 2525,
      secure: false,
      requireTLS: true,
    });
    expect(connectionTo({ address: "smtp://mail.example", from }).port).toBe(587);
  });

  test.each(["smtp://localhost", "smtp://127.0.0.1:25", "smtp://[::1]"])(
    "needs no TLS where no other computer can listen: %s",
    (address) => expect(connectionTo({ address, from }).requireTLS).toBe(false),
  );

  test.each(["smtp://127.0.0.1.example", "smtp://localhost.example", "smtp://192.168.1.9"])(
    "needs it everywhere else: %s",
    (address) => expect(connectionTo({ address, from }).requireTLS).toBe(true),
  );

  test.each(["https://mail.example", "mail.example", "smtp://"])("is refused to %s", (address) => {
    expect(() => connectionTo({ address, from })).toThrow(TypeError);
  });
});
