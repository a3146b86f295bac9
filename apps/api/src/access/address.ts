import { isIPv6 } from 'node:net';

const MAPPED_IPV4 = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i;

/**
 * The sender an address stands for: an IPv4 address as it is, an IPv6 address by its first 64 bits, since one
 * household or machine holds all addresses of such a network.
 */
export function senderOf(address: string): string {
  const mapped = MAPPED_IPV4.exec(address);
  if (mapped?.[1] !== undefined) return mapped[1];
  if (!isIPv6(address)) return address;
  const [head = '', tail] = address.toLowerCase().split('::', 2);
  const left = head === '' ? [] : head.split(':');
  const right = tail === undefined || tail === '' ? [] : tail.split(':');
  const zeros = Array<string>(Math.max(0, 8 - left.length - right.length)).fill('0');
  const groups = tail === undefined ? left : [...left, ...zeros, ...right];
  return `${groups.slice(0, 4).map((group) => group.replace(/^0+(?=.)/, '')).join(':')}::/64`;
}
