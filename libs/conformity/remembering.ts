/** A key longer than this is not kept: it is no value of a paper, and would only fill the store. */
const KEY_MAX_LENGTH = 200;

/**
 * `compute`, which must give the same answer for the same key, with its last `capacity` answers kept by key. The oldest
 * answer gives way.
 */
export function remembering<Given, Answer>(
  compute: (given: Given) => Answer,
  keyOf: (given: Given) => string,
  capacity: number,
): (given: Given) => Answer {
  const answers = new Map<string, Answer>();
  return (given) => {
    const key = keyOf(given);
    const known = answers.get(key);
    if (known !== undefined) return known;
    const answer = compute(given);
    if (key.length <= KEY_MAX_LENGTH) keep(answers, key, answer, capacity);
    return answer;
  };
}

function keep<Answer>(answers: Map<string, Answer>, key: string, answer: Answer, capacity: number): void {
  if (answers.size >= capacity) {
    const [oldest] = answers.keys();
    if (oldest !== undefined) answers.delete(oldest);
  }
  answers.set(key, answer);
}

/** One key for several texts; the lengths keep them apart whatever characters they hold. */
export function keyOfTexts(...texts: readonly (string | null)[]): string {
  let key = '';
  for (const text of texts) key += text === null ? '-' : `${text.length}:${text}`;
  return key;
}
