import { expect, test } from "vitest";
import { MemoryStore } from "./memory-store.ts";
import { replaceDocuments } from "./replace-documents.ts";

test("the rules last accepted are kept as a whole: dropped files go, changed and new ones come", async () => {
  const store = new MemoryStore("00112233aabbccdd");
  const first = new Map([["engines.yaml", "a"], ["batteries.yaml", "b"], ["bilges.yaml", "c"]]);
  store.commit({ documents: replaceDocuments("accepted-rules", new Map(), first) });

  const second = new Map([["engines.yaml", "a"], ["batteries.yaml", "B"], ["tanks.yaml", "d"]]);
  const before = await store.documents("accepted-rules");
  const documents = replaceDocuments("accepted-rules", before, second);
  expect(documents.map(({ key }) => key)).toEqual(["bilges.yaml", "batteries.yaml", "tanks.yaml"]);
  store.commit({ documents });
  expect(await store.documents("accepted-rules")).toEqual(second);
});
