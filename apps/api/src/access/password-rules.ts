/** NIST SP 800-63B-4: at least 15 characters where the password stands alone, no rules of composition, no expiry. */
export const SHORTEST_PASSWORD = 15;
export const LONGEST_PASSWORD = 128;

/** Long passwords that are tried first, as letters and digits only. Our own list, from common patterns. */
const BLOCKED = new Set([
  '123456789012345', '1234567890123456', '12345678901234567890', '098765432109876', '987654321098765',
  'abcdefghijklmno', 'abcdefghijklmnop', 'abcdefghijklmnopqrstuvwxyz', 'qwertyuiopasdfg', 'qwertyuiopasdfgh',
  'qwertyuiopasdfghjkl', 'qwertyuiopasdfghjklzxcvbnm', 'qwertzuiopasdfg', 'qwertzuiopasdfghjkl', 'azertyuiopqsdfg',
  '1q2w3e4r5t6y7u8i', '1q2w3e4r5t6y7u8i9o0p', '1qaz2wsx3edc4rfv', '1qaz2wsx3edc4rfv5tgb', 'qazwsxedcrfvtgb',
  'passwordpassword', 'passwordpassword1', 'password123456789', 'password12345678', 'mypasswordissecret',
  'thisismypassword', 'thisisapassword', 'letmeinletmeinletmein', 'correcthorsebatterystaple', 'iloveyouiloveyou',
  'administrator123', 'administrator1234', 'adminadminadmin', 'administratoradministrator', 'changemechangeme',
  'changemeplease1', 'welcomewelcome1', 'everymetreeverymetre', 'everymetre123456', 'everymetrepassword',
]);

/** Whose password it is to be. */
export interface PasswordOwner {
  readonly name: string;
  readonly signInName: string;
}

/** The one form in which a password is hashed and compared, however a keyboard composes its characters (NFKC). */
export const canonicalPassword = (password: string): string => password.normalize('NFKC');

/** The limit that `password` breaks, in words, or null when it may be used by `owner`. */
export function passwordFault(password: unknown, owner: PasswordOwner): string | null {
  if (typeof password !== 'string' || !password.isWellFormed()) return 'text';
  const canonical = canonicalPassword(password);
  const length = Array.from(canonical).length;
  if (length < SHORTEST_PASSWORD || length > LONGEST_PASSWORD) {
    return `${SHORTEST_PASSWORD} to ${LONGEST_PASSWORD} characters`;
  }
  const bare = bareOf(canonical);
  if (BLOCKED.has(bare) || isRepetition(canonical)) return 'not one of the passwords that are guessed first';
  const names = [bareOf(owner.name), bareOf(owner.signInName)].filter((name) => name.length >= 3);
  return names.some((name) => bare.includes(name)) ? 'without the name of its owner' : null;
}

const bareOf = (text: string): string => text.toLowerCase().replaceAll(/[^\p{L}\p{N}]/gu, '');

/** One piece of at most four characters, over and over. */
function isRepetition(text: string): boolean {
  return [1, 2, 3, 4].some((size) => text === text.slice(0, size).repeat(Math.ceil(text.length / size)).slice(0, text.length));
}
