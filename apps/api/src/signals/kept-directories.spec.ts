import { expect, test } from '@jest/globals';
import { ChannelDirectory } from './channel-directory.js';
import { KeptDirectories } from './kept-directories.js';

function grow(directory: ChannelDirectory, blocks: number): ChannelDirectory {
  if (!directory.hasUpload('u')) directory.know({ id: 'u', runId: 'r', position: 'counter', decimals: 0 });
  for (let no = 0; no < blocks; no += 1) directory.add({ uploadId: 'u', samples: 1, firstPosition: no, lastPosition: no, fromUs: no, toUs: no, unread: 0, knownUs: no });
  return directory;
}

test('directories that grew since they were kept are given up once all have too many blocks', () => {
  const kept = new KeptDirectories(100);
  const [first, second] = [new ChannelDirectory(), new ChannelDirectory()];
  kept.keep('a first', first);
  kept.keep('a second', second);
  kept.keep('a first', grow(first, 60));
  expect([kept.get('a first'), kept.get('a second')]).toEqual([first, second]);
  kept.keep('a second', grow(second, 60));
  expect([kept.get('a first'), kept.get('a second')]).toEqual([undefined, second]);
  kept.forgetAll('a ');
  expect(kept.get('a second')).toBeUndefined();
});
