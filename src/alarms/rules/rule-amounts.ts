import type { Misread } from "../../units/misread.ts";
import { splitNumber } from "../../units/number-text.ts";
import { parseDifference, parseQuantity, type ReadQuantity } from "../../units/quantity.ts";
import type { Amount, Difference, Limit } from "./rule-parts.ts";

export type Read<T> = { readonly ok: true; readonly value: T } | Misread;

type Written = number | string;
type PerNominal = Extract<Limit, { kind: "per-nominal" }>;

/** `10 psi`, or a plain number for counts and bits. */
export function readAmount(written: Written): Read<Amount> {
  return amountWith(parseQuantity, written);
}

/** `10 psi`, `103 % of rated-speed` or `12.2 V per 12 V`. */
export function readLimit(written: Written): Read<Limit> {
  const share = typeof written === "string" ? SHARE_OF.exec(written) : null;
  if (share !== null) {
    const number = splitNumber(share[1]);
    if (number === undefined || number.rest !== "") {
      return misread(written, "a percentage, such as 103 % of rated-speed");
    }
    const value = { kind: "share-of", share: number.number / 100, number: share[2] } as const;
    return { ok: true, value };
  }
  return perNominalWith(parseQuantity, written) ?? fixed(readAmount(written));
}

/** A difference (`2 psi`, `5 °F`), `5 %`, or `0.1 V per 12 V`; never negative. */
export function readDifference(written: Written): Read<Difference> {
  const read = perNominalWith(parseDifference, written) ??
    fixed(amountWith(parseDifference, written));
  if (!read.ok) return read;
  const { amount } = read.value;
  if (amount.value < 0) return misread(written, "a difference that is not negative");
  if (amount.code === "%") return { ok: true, value: { kind: "share", percent: amount.value } };
  return read;
}

const SHARE_OF = /^(.*?)\s*%\s+of\s+([a-z][a-z-]*)\s*$/;
const PER = /^(.*\S)\s+per\s+(\d.*)$/;

type Parse = (text: string) => ReadQuantity;

function amountWith(parse: Parse, written: Written): Read<Amount> {
  if (typeof written === "number") {
    return { ok: true, value: { value: written, code: "1", written: String(written) } };
  }
  const read = parse(written);
  return read.ok ? { ok: true, value: { value: read.value, code: read.code, written } } : read;
}

/** Null where the text does not say `per`. */
function perNominalWith(parse: Parse, written: Written): Read<PerNominal> | null {
  const parts = typeof written === "string" ? PER.exec(written) : null;
  if (parts === null) return null;
  const amount = amountWith(parse, parts[1]);
  if (!amount.ok) return amount;
  const per = parseQuantity(parts[2], "voltage");
  if (!per.ok) return per;
  if (per.value <= 0) return misread(written, "a voltage above nothing after per");
  return {
    ok: true,
    value: {
      kind: "per-nominal",
      amount: amount.value,
      per: { value: per.value, code: per.code, written: parts[2] },
    },
  };
}

function fixed(read: Read<Amount>): Read<{ kind: "fixed"; amount: Amount }> {
  return read.ok ? { ok: true, value: { kind: "fixed", amount: read.value } } : read;
}

function misread(found: Written, expected: string): Misread {
  return { ok: false, found: String(found), expected };
}
