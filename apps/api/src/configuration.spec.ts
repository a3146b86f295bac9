import { describe, expect, test } from '@jest/globals';
import { readConfiguration } from './configuration.js';

describe('readConfiguration', () => {
  test('gives the defaults, frozen, for an empty environment', () => {
    const configuration = readConfiguration({});
    expect(configuration).toMatchObject({
      port: 3070, host: '127.0.0.1', databaseUrl: null, dataFolder: '.data', logLevel: 'info', logTo: 'file',
      trustProxy: false, demo: true,
    });
    expect(Object.isFrozen(configuration)).toBe(true);
  });

  test('reads what is given', () => {
    expect(
      readConfiguration({
        PORT: '0', DATABASE_URL: 'postgres://u:p@db/everymetre', EVERYMETRE_DEMO: 'off', TRUST_PROXY: '10.0.0.0/8, ::1',
      }),
    ).toMatchObject({ port: 0, databaseUrl: 'postgres://u:p@db/everymetre', demo: false, trustProxy: ['10.0.0.0/8', '::1'] });
  });

  test.each([
    [{ PORT: '70000' }, 'PORT is "70000": it must be a whole number from 0 to 65535.'],
    [{ PORT: '-1' }, 'PORT is "-1": it must be a whole number from 0 to 65535.'],
    [{ LOG_LEVEL: 'loud' }, 'LOG_LEVEL is "loud": it must be one of fatal, error, warn, info, debug, trace, silent.'],
    [{ EVERYMETRE_DEMO: 'no' }, 'EVERYMETRE_DEMO is "no": it must be one of on, off.'],
    [
      { TRUST_PROXY: '10.0.0.0/33' },
      'TRUST_PROXY is "10.0.0.0/33": it must be off, the number of proxies (1 to 9), or their addresses with commas between.',
    ],
  ])('names variable, value and limit of %j', (environment, message) => {
    expect(() => readConfiguration(environment)).toThrow(message);
  });

  test.each(['mysql://root:geheim@db/x', 'geheim', 'postgres://u:geheim@db'])('never shows the password of %s', (url) => {
    expect(() => readConfiguration({ DATABASE_URL: url })).toThrow(/^DATABASE_URL is (?!.*geheim)/);
  });
});
