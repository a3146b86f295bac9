/** Parameters for `fc.assert`: the seed named by TEST_SEED, or none, in which case fast-check prints the one it drew. */
export function seedFromEnvironment(): { seed?: number } {
  const text = process.env['TEST_SEED'];
  return text === undefined ? {} : { seed: Number.parseInt(text, 10) };
}
