// A process that migrates the database of its argument and prints the names of the migrations it applied.
import { createDataSource, migrate } from '#libs/persistence';
import { MIGRATIONS } from '../../migrations/index.js';

const owner = await createDataSource({ url: process.argv[2] ?? '', entities: [], migrations: MIGRATIONS, poolSize: 2 }).initialize();
process.stdout.write(JSON.stringify(await migrate(owner)));
await owner.destroy();
