/** Rules whose proof is a story of its own: where it is told, both ways. */
export const ELSEWHERE: Readonly<Record<string, string>> = {
  "starts-weaker-than-usual": "starts.test.ts",
  "pump-starts-often": "rule-packs-tell.test.ts",
  "pump-starts-too-often": "rule-packs-tell.test.ts",
  "moved": "rule-packs-tell.test.ts",
  "anchor-drags": "rule-packs-tell.test.ts",
  "pump-starts-more-than-usual": "pump-starts.test.ts",
  "pump-never-ran": "pump-starts.test.ts",
};
