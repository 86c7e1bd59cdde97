/** A browser's share of a visit: it keeps the cookie, says where a form came from, follows nothing. */
export class PageVisitor {
  cookie = "";
  /** From the last page that had one. */
  formToken = "";
  /** As the page set it last, whole. */
  setCookie = "";

  constructor(
    /** With a slash at its end. */
    readonly url: string,
    readonly client?: Deno.HttpClient,
  ) {}

  get(path = "", headers: Record<string, string> = {}): Promise<Response> {
    return this.#ask(path, { headers: { accept: "text/html", ...headers } });
  }

  /** Loads the page and keeps its token. */
  async look(): Promise<string> {
    const text = await (await this.get()).text();
    this.formToken = /data-token="([^"]+)"/.exec(text)?.[1] ?? this.formToken;
    return text;
  }

  post(
    path: string,
    fields: Record<string, string>,
    headers: Record<string, string> = {},
  ): Promise<Response> {
    const body = new URLSearchParams({ token: this.formToken, ...fields });
    const { origin } = new URL(this.url);
    return this.#ask(path, { method: "POST", body, headers: { origin, ...headers } });
  }

  async signIn(passphrase: string, who = "Kim"): Promise<Response> {
    const reply = await this.post("sign-in", { passphrase, who });
    await reply.body?.cancel();
    if (reply.status === 303) await this.look();
    return reply;
  }

  async #ask(path: string, init: RequestInit): Promise<Response> {
    const headers = new Headers(init.headers);
    if (this.cookie !== "") headers.set("cookie", this.cookie);
    const reply = await fetch(new URL(path, this.url), {
      ...init,
      headers,
      redirect: "manual",
      ...this.client && { client: this.client },
    });
    this.setCookie = reply.headers.get("set-cookie") ?? this.setCookie;
    const given = /^([^;]*)/.exec(reply.headers.get("set-cookie") ?? "")?.[1];
    if (given !== undefined && given !== "") this.cookie = given;
    return reply;
  }
}
