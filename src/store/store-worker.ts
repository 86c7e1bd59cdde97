/// <reference lib="deno.worker" />
import { z } from "zod";
import { openProblem } from "./open-problem.ts";
import { StoreTables } from "./store-tables.ts";
import type { StoreReply, StoreRequest } from "./worker-messages.ts";

/**
 * The store's own thread: a slow card makes this one wait, never the bus. It handles one request at
 * a time, in order.
 */
z.config({ jitless: true });

let tables: StoreTables | undefined;

self.onmessage = ({ data }: MessageEvent<StoreRequest>) => self.postMessage(replyTo(data));

function replyTo(request: StoreRequest): StoreReply {
  if (request.kind === "open") return open(request.folder);
  if (tables === undefined) return { kind: "failed", why: "the state folder is not open" };
  try {
    return ask(tables, request);
  } catch (error) {
    return { kind: "failed", why: error instanceof Error ? error.message : String(error) };
  }
}

function open(folder: string): StoreReply {
  try {
    Deno.mkdirSync(folder, { recursive: true });
    tables = new StoreTables(`${folder}/sternfast.db`, randomEpoch());
    return { kind: "opened", epoch: tables.epoch, lastNumber: tables.lastNumber };
  } catch (error) {
    return { kind: "failed", why: openProblem(folder, error) };
  }
}

function ask(tables: StoreTables, request: Exclude<StoreRequest, { kind: "open" }>): StoreReply {
  switch (request.kind) {
    case "save":
      tables.save(request.work);
      return { kind: "saved" };
    case "documents":
      return { kind: "documents", documents: tables.documents(request.of) };
    case "events":
      return { kind: "events", events: tables.eventsAfter(request.after, request.limit) };
    case "mark":
      return { kind: "mark", number: tables.mark(request.outlet, request.unseen) };
    case "forget":
      tables.forgetSettled(request.outlet, request.before);
      return { kind: "forgotten" };
    case "close":
      tables.close();
      return { kind: "closed" };
  }
}

/** 64 random bits as 16 hexadecimal digits. */
function randomEpoch(): string {
  return crypto.getRandomValues(new Uint8Array(8)).toHex();
}
