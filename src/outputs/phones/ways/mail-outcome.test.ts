import { describe, expect, test } from "vitest";
import { mailOutcome } from "./mail-outcome.ts";

function outcome(error: unknown) {
  return mailOutcome(error, "mail.example", false);
}

describe("a mail that was not accepted", () => {
  test.each([421, 450, 451, 452])("with %i is to be tried again", (responseCode) => {
    expect(outcome({ responseCode })).toEqual({
      kind: "try-again",
      why: `mail.example answered ${responseCode}`,
    });
  });

  test.each([530, 550, 552, 554])("with %i is refused", (responseCode) => {
    expect(outcome({ responseCode })).toEqual({
      kind: "refused",
      why: `mail.example answered ${responseCode}`,
    });
  });

  test("for want of TLS is to be tried again: another network may be more honest", () => {
    expect(outcome({ code: "ETLS" })).toEqual({
      kind: "try-again",
      why: "mail.example could not be spoken to in secret (TLS), so nothing was said to it",
    });
  });

  test("for want of trust says that, for it is the owner's to put right", () => {
    for (const originalCode of ["DEPTH_ZERO_SELF_SIGNED_CERT", "UNABLE_TO_VERIFY_LEAF_SIGNATURE"]) {
      expect(outcome({ code: "ESOCKET", originalCode })).toEqual({
        kind: "try-again",
        why: "mail.example has a certificate that this computer does not trust",
      });
    }
  });

  test("never has the error's own words in it", () => {
    for (const error of [new Error("s3cret"), "s3cret", { responseCode: "s3cret" }, undefined]) {
      expect(outcome(error)).toEqual({ kind: "try-again", why: "mail.example cannot be reached" });
    }
  });
});
