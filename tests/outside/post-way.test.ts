import { readSettings } from "../../src/commands/settings/settings.ts";
import { PostWay, type PostWaySettings } from "../../src/outputs/phones/ways/post-way.ts";
import { ROOT } from "../support/sternfast.ts";
import { ALARM, describeWay, micros, type TakenMessage } from "../support/way-conformance.ts";

const SECRET = "s3cret-token";

interface Service {
  readonly name: string;
  readonly template: Pick<PostWaySettings, "method" | "headers" | "body">;
  /** What the message says, as this service reads it. */
  readonly textOf: (body: string) => string;
}

/** The templates that owners are given to copy from, each with a service of its sort. */
function examples(): Service[] {
  const file = `${ROOT}/examples/ways/sternfast.yaml`;
  const { settings, problems } = readSettings(file, ROOT, Deno.readTextFileSync(file));
  if (settings === undefined) throw new Error(JSON.stringify(problems));
  const readers: Omit<Service, "template">[] = [
    { name: "the example of a JSON service", textOf: (body) => JSON.parse(body).message },
    {
      name: "the example of an SMS gateway",
      textOf: (body) => new URLSearchParams(body).get("message") ?? "",
    },
    { name: "the example of a service of plain text", textOf: (body) => body },
  ];
  const posts = settings.people.flatMap(({ reach }) => reach).filter((way) => "post" in way);
  return posts.map(({ method, headers = {}, body }, place) => ({
    ...readers[place],
    template: {
      method,
      headers: Object.fromEntries(
        Object.entries(headers).filter((entry): entry is [string, string] =>
          typeof entry[1] === "string"
        ),
      ),
      body: typeof body === "string" ? body : undefined,
    },
  }));
}

const SERVICES: readonly Service[] = [
  {
    name: "an HTTP POST of the whole message",
    template: {},
    textOf: (body) => JSON.parse(body).text,
  },
  ...examples(),
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
