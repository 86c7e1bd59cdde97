/**
 * A worker that is told an order once and then answers one question at a time; before it replies it
 * may say how far it has come.
 */
export class AskedThread<Order, Question, Reply> {
  readonly #worker: Worker;

  /** @param place its module */
  constructor(place: URL, order: Order) {
    this.#worker = new Worker(place, { type: "module" });
    this.#worker.postMessage({ order });
  }

  /** Rejects where the worker itself breaks. */
  ask(question: Question, onReach: (reached: number) => void = () => {}): Promise<Reply> {
    const worker = this.#worker;
    return new Promise((resolve, reject) => {
      worker.onmessage = ({ data }: MessageEvent<Told<Reply>>) => {
        if ("reached" in data) onReach(data.reached);
        else resolve(data.reply);
      };
      worker.onerror = (event) => {
        event.preventDefault();
        reject(new Error(event.message));
      };
      worker.postMessage({ question });
    });
  }

  drop(): void {
    this.#worker.terminate();
  }
}

/** What comes to a worker. */
export type Asked<Order, Question> = { readonly order: Order } | { readonly question: Question };

/** What a worker tells. */
export type Told<Reply> = { readonly reached: number } | { readonly reply: Reply };
