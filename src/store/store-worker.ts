/// <reference lib="deno.worker" />
import { z } from "zod";
import { HistoryTables } from "./history-tables.ts";
import { openProblem } from "./open-problem.ts";
import { StoreTables } from "./store-tables.ts";
import type { HistoryRequest, StoreReply, StoreRequest } from "./worker-messages.ts";

/**
 * The store's own thread: a slow card makes this one wait, never the bus. It handles one request at
 * a time, in order.
 */
z.config({ jitless: true });

let tables: StoreTables | undefined;
let history: HistoryTables | undefined;

self.onmessage = ({ data }: MessageEvent<StoreRequest>) => self.postMessage(replyTo(data));

function replyTo(request: StoreRequest): StoreReply {
  if (request.kind === "open") return open(request.folder);
  if (tables === undefined || history === undefined) {
    return { kind: "failed", why: "the state folder is not open" };
  }
  try {
    return ask(tables, history, request);
  } catch (error) {
    return { kind: "failed", why: error instanceof Error ? error.message : String(error) };
  }
}

function open(folder: string): StoreReply {
  try {
    Deno.mkdirSync(folder, { recursive: true, mode: 0o700 });
    for (const name of ["sternfast.db", "history.db"]) makePrivate(`${folder}/${name}`);
    tables = new StoreTables(`${folder}/sternfast.db`, randomEpoch());
    history = new HistoryTables(`${folder}/history.db`);
    const { epoch, lastNumber } = tables;
    return { kind: "opened", epoch, lastNumber, lastSheet: history.lastSheet };
  } catch (error) {
    return { kind: "failed", why: openProblem(folder, error) };
  }
}

/** What is kept has links that answer, and devices that can be told: it is nobody else's to read. */
function makePrivate(file: string): void {
  Deno.openSync(file, { write: true, create: true, mode: 0o600 }).close();
}

function ask(
  tables: StoreTables,
  history: HistoryTables,
  request: Exclude<StoreRequest, { kind: "open" }>,
): StoreReply {
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
      history.close();
      return { kind: "closed" };
    default:
      return askHistory(history, request);
  }
}

function askHistory(history: HistoryTables, request: HistoryRequest): StoreReply {
  switch (request.kind) {
    case "add-minutes":
      history.add(request.records, request.boot);
      return { kind: "sheet-number", number: history.lastSheet };
    case "restamp":
      history.restamp(request.boot, request.minutes);
      return { kind: "done" };
    case "sheets": {
      const { after, limit, boot } = request;
      return { kind: "sheets", sheets: history.sheetsAfter(after, limit, boot) };
    }
    case "records":
      return { kind: "records", records: history.records(request.name, request.from, request.to) };
    case "sheet-mark":
      return { kind: "sheet-number", number: history.mark(request.outlet) };
    case "settle-sheets":
      history.settle(request.outlet, request.number);
      return { kind: "done" };
    case "forget-minutes":
      history.forget(request.before, request.mostBytes, request.boot);
      return { kind: "done" };
  }
}

/** 64 random bits as 16 hexadecimal digits. */
function randomEpoch(): string {
  return crypto.getRandomValues(new Uint8Array(8)).toHex();
}
