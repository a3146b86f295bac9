import { describe, expect, test } from '@jest/globals';
import { senderOf } from './address.js';

describe('senderOf', () => {
  // RFC 5737 and RFC 3849 keep these addresses for examples.
  test.each([
    ['192.0.2.7', '192.0.2.7'],
    ['::ffff:192.0.2.7', '192.0.2.7'],
    ['2001:db8:1:2:3:4:5:6', '2001:db8:1:2::/64'],
    ['2001:0DB8:0001:2::9', '2001:db8:1:2::/64'],
    ['2001:db8::9', '2001:db8:0:0::/64'],
    ['::1', '0:0:0:0::/64'],
  ])('%s is %s', (address, sender) => {
    expect(senderOf(address)).toBe(sender);
  });
});
