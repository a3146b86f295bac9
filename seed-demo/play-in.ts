import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { DataSource } from 'typeorm';
import { Configuration } from '../apps/api/src/configuration.js';
import { createApp } from '../apps/api/src/create-app.js';
import type { DemoSignIn } from '../apps/api/src/start/demo.js';
import { StartFailure } from '../apps/api/src/start/start-failure.js';
import { PEOPLE, PEOPLE_AT } from './people.js';
import { Player } from './player.js';
import { StoryClock } from './story-clock.js';
import { storyId } from './story-id.js';
import { STORY } from './story.js';

/**
 * Plays the invented demo well into the database of `app`, and gives who can sign in. It is entered by requests to an
 * application of its own on the same database, whose clock is the story's: so it has a history that lies in March 2026,
 * and what is known afterwards comes after it. Throws StartFailure when the database has people already: what is entered
 * is never deleted, so the demo does not mix with anybody's records.
 */
export async function playInDemo(app: NestFastifyApplication): Promise<DemoSignIn[]> {
  const dataSource = app.get(DataSource);
  await demandEmpty(dataSource);
  const clock = new StoryClock();
  const stage = await createApp({ configuration: unhurried(app.get(Configuration)), dataSource, clock });
  try {
    const player = new Player(stage, clock);
    const signIns = await player.enterPeople();
    await player.play(STORY);
    return signIns;
  } finally {
    await stage.close();
  }
}

/** Nobody but the player sends requests to it, all of them within seconds. */
const unhurried = (configuration: Configuration): Configuration => ({
  ...configuration,
  rate: { strangerPerMinute: Infinity, sessionPerMinute: Infinity },
});

async function demandEmpty(dataSource: DataSource): Promise<void> {
  const [first] = await dataSource.query<{ id: string }[]>('select id from person where version = 1 order by known_from limit 1');
  if (first === undefined) return;
  if (first.id !== storyId(PEOPLE[0]?.signInName ?? '', PEOPLE_AT)) {
    throw new StartFailure('This database has people already: the demo goes into an empty one only, since nothing entered is ever deleted.');
  }
  const ended = STORY.map(({ recordedAt }) => recordedAt).sort().at(-1);
  const last = await dataSource.query<unknown[]>('select 1 from nonconformance where known_from >= $1 limit 1', [ended]);
  throw new StartFailure(
    last.length > 0
      ? 'The demo well is in this database already.'
      : 'The demo well was begun in this database but not finished: remove the database, or its data folder, and start again.',
  );
}
