import { describe, expect, test } from '@jest/globals';
import { parsePostmasterFile } from './postmaster-file.js';
import { serverArguments, serverSettings } from './server-settings.js';

describe('parsePostmasterFile', () => {
  // Written by PostgreSQL 18.4, shortened paths.
  const whole = '10032\n/data/cluster\n1795599805\n41493\n\n127.0.0.1\n  1835218     32768\nready   \n';

  test('reads process id, port and status', () => {
    expect(parsePostmasterFile(whole)).toEqual({ pid: 10032, port: 41493, status: 'ready' });
  });

  test('reads what a server that is just starting has written so far', () => {
    expect(parsePostmasterFile('10032\n/data/cluster\n1795599805\n')).toEqual({ pid: 10032, port: 0, status: '' });
  });

  test.each(['', '\n', 'x\n', '-5\n', '0\n'])('finds no process id in %j', (text) => {
    expect(parsePostmasterFile(text)).toBeUndefined();
  });
});

describe('serverSettings', () => {
  test('lets a caller change the server, but not open it to other machines', () => {
    const settings = serverSettings(5433, { fsync: 'off', listen_addresses: '*', port: '1', unix_socket_directories: '/tmp' });
    expect(settings).toMatchObject({ fsync: 'off', listen_addresses: '127.0.0.1', port: '5433', unix_socket_directories: '' });
  });

  test('become arguments of postgres', () => {
    expect(serverArguments('/data/cluster', { jit: 'off', port: '5433' })).toEqual([
      '-D', '/data/cluster', '-c', 'jit=off', '-c', 'port=5433',
    ]);
  });
});
