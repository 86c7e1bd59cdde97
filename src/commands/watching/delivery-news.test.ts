import { expect, test } from "vitest";
import type { DeliveryStanding } from "../../outputs/phones/delivery/told-record.ts";
import { deliveryNews } from "./delivery-news.ts";

const standing = (state: DeliveryStanding["state"], tried: number, why = ""): DeliveryStanding => ({
  ...{ key: "k", boat: "Dora", person: "Ellen", way: "", text: "", due: 0, changed: 0 },
  ...{ state, tried, why },
});

test("trouble is said once, also where two ways were tried before it, and so is its end", () => {
  const said: string[] = [];
  const note = deliveryNews((sentence) => said.push(sentence));
  note(standing("queued", 0));
  note(standing("queued", 2, "post.example answered 503"));
  note(standing("queued", 4, "post.example answered 503"));
  note(standing("accepted", 5));
  expect(said).toEqual([
    "Ellen could not be told yet: post.example answered 503. It is tried again.",
    "Ellen has been told, at try 5.",
  ]);
});
