import { z } from "zod";

/** Why a connection to the broker ended or never began. */
export interface ConnectionProblem {
  /** A clause for a sentence: `nothing listens at broker.example:1883`. */
  readonly why: string;
  /** The broker does not know this version of MQTT; an older one may do. */
  readonly olderProtocol: boolean;
}

const coded = z.object({ code: z.union([z.string(), z.number()]) });

/** CONNACK codes: MQTT 3.1.1 §3.2.2.3 and MQTT 5 §3.2.2.2. */
const VERSION_CODES = [1, 132];
const SIGN_IN_CODES = [4, 5, 134, 135, 140];

/** @param where host and port as the owner wrote them, without user or password */
export function connectionProblem(error: unknown, where: string): ConnectionProblem {
  const code = coded.safeParse(error).data?.code;
  const olderProtocol = typeof code === "number" && VERSION_CODES.includes(code);
  return { why: clause(error, code, where), olderProtocol };
}

function clause(error: unknown, code: string | number | undefined, where: string): string {
  if (typeof code === "number") {
    if (SIGN_IN_CODES.includes(code)) return `the broker at ${where} does not accept our sign-in`;
    return `the broker at ${where} refuses the connection (code ${code})`;
  }
  switch (code) {
    case "ECONNREFUSED":
      return `nothing listens at ${where}`;
    case "ENOTFOUND":
    case "EAI_AGAIN":
      return `the name in ${where} is not known`;
    case "EHOSTUNREACH":
    case "ENETUNREACH":
      return `there is no way to ${where}`;
    case "ETIMEDOUT":
      return `${where} does not answer`;
  }
  const said = error instanceof Error ? error.message : "";
  if (/connack timeout|keepalive timeout/i.test(said)) return `${where} does not answer`;
  if (/certificate|self.signed|tls|ssl/i.test(said)) return `the certificate of ${where}: ${said}`;
  return `the connection to ${where} was lost`;
}
