import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { MILLISECOND, parseIsoTime, SECOND } from "../../../ground/time.ts";
import { PostWay } from "./post-way.ts";
import type { PhoneMessage } from "../way.ts";

const wall = parseIsoTime("2026-06-14T13:31:20Z") ?? 0;

const message: PhoneMessage = {
  key: "k".repeat(32),
  person: "ellen",
  boat: "Hazel Comfort",
  priority: "alarm",
  about: "raised",
  signal: "engine/port/oil-pressure",
  answers: [],
  text: "Hazel Comfort, ALARM: port oil pressure 11 psi, limit 18 psi, since 14:31.",
  time: wall,
};

const never = new AbortController().signal;
let answer: () => Response | Promise<Response>;
let seen: { method: string; headers: Headers; body: string }[];
let server: Deno.HttpServer<Deno.NetAddr>;

beforeEach(() => {
  seen = [];
  answer = () => new Response("thank you");
  server = Deno.serve({ hostname: "127.0.0.1", port: 0, onListen: () => {} }, async (request) => {
    const { method, headers } = request;
    seen.push({ method, headers: new Headers(headers), body: await request.text() });
    return answer();
  });
});
afterEach(() => server.shutdown());

const address = () => `http://127.0.0.1:${server.addr.port}/hook?token=s3cret`;
const way = (patience = 10 * SECOND) =>
  new PostWay({
    name: "post",
    address: address(),
    headers: { Authorization: "Bearer s3cret" },
    patience,
    wall: () => wall,
  });

test("a message is one POST of JSON with its key and the owner's headers", async () => {
  expect(await way().send(message, never)).toEqual({ kind: "accepted" });
  const [{ method, headers, body }] = seen;
  expect(method).toBe("POST");
  expect(headers.get("Idempotency-Key")).toBe("k".repeat(32));
  expect(headers.get("Content-Type")).toBe("application/json");
  expect(headers.get("Authorization")).toBe("Bearer s3cret");
  expect(JSON.parse(body)).toEqual({ ...message, time: "2026-06-14T13:31:20.000Z" });
});

describe("an answer that may be better later is to be tried again", () => {
  test.each([408, 425, 429, 500, 502, 503, 504])("%i", async (status) => {
    answer = () => new Response("", { status });
    expect(await way().send(message, never)).toEqual({
      kind: "try-again",
      why: `127.0.0.1:${server.addr.port} answered ${status}`,
      after: undefined,
    });
  });

  test("when the service says when, not before", async () => {
    answer = () => new Response("", { status: 429, headers: { "Retry-After": "37" } });
    expect(await way().send(message, never)).toMatchObject({ after: 37 * SECOND });
  });
});

test.each([400, 401, 403, 404, 410, 413])("an answer of %i is a refusal", async (status) => {
  answer = () => new Response("", { status });
  expect(await way().send(message, never)).toMatchObject({ kind: "refused" });
});

test("a message never goes on to an address that the owner did not give", async () => {
  answer = () => new Response("", { status: 307, headers: { Location: `${address()}&more` } });
  const outcome = await way().send(message, never);
  expect(outcome).toMatchObject({ kind: "refused" });
  expect(seen).toHaveLength(1);
});

test("a service that does not answer in time is tried again", async () => {
  const held = Promise.withResolvers<Response>();
  answer = () => held.promise;
  const outcome = await way(50 * MILLISECOND).send(message, never);
  held.resolve(new Response(""));
  expect(outcome).toMatchObject({ kind: "try-again" });
  expect(JSON.stringify(outcome)).toContain("took too long to answer");
});

test("a service that is not there is tried again, and its secrets are not said", async () => {
  const gone = way();
  await server.shutdown();
  const outcome = await gone.send(message, never);
  expect(outcome).toMatchObject({ kind: "try-again" });
  expect(JSON.stringify(outcome)).toContain("cannot be reached");
  expect(JSON.stringify(outcome)).not.toContain("s3cret");
});

test("an address that is none is refused at once, without repeating it", () => {
  const settings = { name: "post", address: "s3cret.example/hook", wall: () => wall };
  expect(() => new PostWay(settings)).toThrow('The address for "post" is not http:// or https://');
});
