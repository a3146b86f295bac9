import { RequestMethod } from '@nestjs/common';
import { METHOD_METADATA, PATH_METADATA } from '@nestjs/common/constants.js';
import { DiscoveryService, MetadataScanner, Reflector } from '@nestjs/core';
import { ALLOWED } from '../../apps/api/src/access/allow.decorator.js';
import type { Permission } from '../../apps/api/src/access/permissions.js';
import type { TestApi } from './api.js';
import type { Route } from './routes.js';

/** A route with the permission that its handler names. */
export interface PermittedRoute extends Route {
  readonly allowed: Permission | 'everyone';
}

/** All routes of controllers with the permission each names. */
export function permittedRoutes({ app }: TestApi): PermittedRoute[] {
  const discovery = app.get(DiscoveryService, { strict: false });
  const reflector = app.get(Reflector, { strict: false });
  const scanner = new MetadataScanner();
  return discovery.getControllers().flatMap(({ metatype }) => {
    if (typeof metatype !== 'function') return [];
    const prototype = metatype.prototype as Record<string, () => unknown>;
    const base = Reflect.getMetadata(PATH_METADATA, metatype) as string;
    return scanner.getAllMethodNames(prototype).flatMap((name) => {
      const handler = prototype[name] ?? (() => null);
      const part = Reflect.getMetadata(PATH_METADATA, handler) as string | undefined;
      if (part === undefined) return [];
      const path = `/${[base, part].join('/').split('/').filter((piece) => piece !== '').join('/')}`.replaceAll(/:(\w+)/g, '{$1}');
      const method = RequestMethod[Reflect.getMetadata(METHOD_METADATA, handler) as number] ?? '';
      return [{ method, path, allowed: reflector.get<Permission | 'everyone'>(ALLOWED, handler) }];
    });
  });
}
