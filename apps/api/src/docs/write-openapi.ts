import { writeFile } from 'node:fs/promises';
import { createDataSource } from '#libs/persistence';
import { ENTITIES } from '../app.module.js';
import { readConfiguration } from '../configuration.js';
import { createApp } from '../create-app.js';
import { apiDocument } from './api-document.js';

const FILE = 'apps/api/openapi.json';

// The document follows from the code alone: the data source is never connected.
const dataSource = createDataSource({ url: 'postgresql://127.0.0.1:1/none', entities: ENTITIES });
const app = await createApp({ configuration: readConfiguration({}), dataSource });
await writeFile(FILE, `${JSON.stringify(apiDocument(app), null, 2)}\n`);
await app.close();
process.stdout.write(`Wrote ${FILE}\n`);
