import { AskedThread } from "./asked-thread.ts";
import { replyTo } from "./follow-reply.ts";
import type { RunOrder } from "./rehearsed-run.ts";
import type { RunReply } from "./run-reply.ts";

/** Where runs are followed, one at a time. */
interface Place {
  follow(first: number, onReach: (bytes: number) => void): Promise<RunReply>;
  /** Leaves the run that it follows. */
  leave(): void;
}

/** Follows one run at a time; what it follows can turn out not to be a run, and is let go. */
export class RunThread {
  /** Where the run begins that it follows; -1: idle. */
  first = -1;
  reply: Promise<RunReply> | undefined;
  /** How many bytes of that run were read. */
  reached = 0;

  constructor(
    readonly place: Place,
    readonly onReach: () => void,
  ) {}

  begin(first: number): void {
    this.first = first;
    const reply = this.place.follow(first, (reached) => {
      if (this.reply !== reply) return;
      this.reached = reached;
      this.onReach();
    });
    this.reply = reply;
    const rest = () => this.reply === reply && this.#rest();
    // A run that is let go is waited for by nobody.
    reply.then(rest, () => {});
  }

  letGo(): void {
    this.place.leave();
    this.#rest();
  }

  #rest(): void {
    this.first = -1;
    this.reply = undefined;
    this.reached = 0;
  }
}

/** The thread that asks: it is awake, and has all that a run needs. */
export class ThisThread implements Place {
  #left = new AbortController();

  constructor(readonly order: RunOrder) {}

  follow(first: number, onReach: (bytes: number) => void): Promise<RunReply> {
    this.#left = new AbortController();
    return replyTo(this.order, first, this.#left.signal, onReach);
  }

  leave(): void {
    this.#left.abort();
  }
}

/** One that is made when it is first needed. */
export class OtherThread implements Place {
  #thread: AskedThread<RunOrder, number, RunReply> | undefined;

  constructor(readonly order: RunOrder) {}

  follow(first: number, onReach: (bytes: number) => void): Promise<RunReply> {
    this.#thread ??= new AskedThread(new URL("./run-worker.ts", import.meta.url), this.order);
    return this.#thread.ask(first, onReach);
  }

  leave(): void {
    this.#thread?.drop();
    this.#thread = undefined;
  }
}
