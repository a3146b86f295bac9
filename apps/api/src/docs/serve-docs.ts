import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { SwaggerModule } from '@nestjs/swagger';
import { KnownQueryGuard } from '../http/known-query.guard.js';
import { apiDocument } from './api-document.js';

export const DOCS_PATH = '/docs';

/**
 * Serves the API document at /docs, as a page whose parts all come from here, and at /docs/openapi.json. The document
 * is a promise: a query parameter that it does not name is refused.
 */
export function serveDocs(app: NestFastifyApplication): void {
  app.useGlobalGuards(new KnownQueryGuard());
  SwaggerModule.setup(DOCS_PATH.slice(1), app, () => apiDocument(app), {
    jsonDocumentUrl: `${DOCS_PATH.slice(1)}/openapi.json`,
    raw: ['json'],
    customSiteTitle: 'Everymetre: API',
    swaggerOptions: { persistAuthorization: false, displayRequestDuration: true },
  });
}
