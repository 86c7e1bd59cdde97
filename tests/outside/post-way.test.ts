import { PostWay, type PostWaySettings } from "../../src/outputs/phones/ways/post-way.ts";
import { ALARM, describeWay, micros, type TakenMessage } from "../support/way-conformance.ts";

const SECRET = "s3cret-token";

interface Service {
  readonly name: string;
  readonly template: Pick<PostWaySettings, "method" | "headers" | "body">;
  /** What the message says, as this service reads it. */
  readonly textOf: (body: string) => string;
}

/** Services of four sorts, each with the template that an owner would write for it. */
const SERVICES: readonly Service[] = [
  {
    name: "an HTTP POST of the whole message",
    template: {},
    textOf: (body) => JSON.parse(body).text,
  },
  {
    name: "an HTTP POST of the owner's JSON",
    template: { body: '{ "topic": "boat", "title": "{title}", "message": "{text}" }' },
    textOf: (body) => JSON.parse(body).message,
  },
  {
    name: "an HTTP POST of a form",
    template: {
      headers: { "Content-Type": "application/x-www-form-urlencoded" },
      body: "to=447700900123&from={boat}&message={text}",
    },
    textOf: (body) => new URLSearchParams(body).get("message") ?? "",
  },
  {
    name: "an HTTP PUT of plain text with a title in a header",
    template: {
      method: "PUT",
      headers: { "Title": "{title}", "X-Who": "{person}" },
      body: "{text}",
    },
    textOf: (body) => body,
  },
];

for (const { name, template, textOf } of SERVICES) {
  describeWay(name, () => {
    const taken: TakenMessage[] = [];
    const answers: { status: number; headers?: Record<string, string> }[] = [];
    const release = Promise.withResolvers<void>();
    let held: Promise<void> | undefined;
    const server = Deno.serve(
      { hostname: "127.0.0.1", port: 0, onListen: () => {} },
      async (request) => {
        const text = textOf(await request.text());
        await held;
        const { status, headers } = answers.shift() ?? { status: 200 };
        if (status === 200) {
          const key = request.headers.get("Idempotency-Key") ?? "";
          taken.push({ key, text, headerNames: [...request.headers.keys()] });
        }
        return new Response(null, { status, headers });
      },
    );
    const address = `http://127.0.0.1:${server.addr.port}/hook?token=${SECRET}`;
    let stopped: Promise<void> | undefined;
    const stop = () => stopped ??= server.shutdown();
    return {
      way: (patience) =>
        new PostWay({
          name: "post",
          address,
          ...template,
          headers: { Authorization: `Bearer ${SECRET}`, ...template.headers },
          patience: micros(patience),
          wall: () => ALARM.time,
        }),
      async next(far) {
        if (far === "not-now") answers.push({ status: 503 });
        if (far === "refuses") answers.push({ status: 401 });
        if (far === "hangs") held = release.promise;
        if (far === "is-gone") await stop();
      },
      askFor37Seconds: () => answers.push({ status: 429, headers: { "Retry-After": "37" } }),
      taken: () => taken,
      secrets: [SECRET],
      async stop() {
        release.resolve();
        await stop();
      },
    };
  });
}
