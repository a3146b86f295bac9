import { Injectable, type OnModuleInit } from '@nestjs/common';
import { PATH_METADATA } from '@nestjs/common/constants.js';
import { DiscoveryService, MetadataScanner, Reflector } from '@nestjs/core';
import { ALLOWED } from './allow.decorator.js';

/** Keeps the program from starting when any route says nothing about who may use it. */
@Injectable()
export class PermissionCheck implements OnModuleInit {
  constructor(
    private readonly discovery: DiscoveryService,
    private readonly scanner: MetadataScanner,
    private readonly reflector: Reflector,
  ) {}

  onModuleInit(): void {
    const open = this.discovery.getControllers().flatMap(({ name, metatype }) => {
      const prototype = (metatype as (new () => object) | null)?.prototype as object | undefined;
      return prototype === undefined ? [] : this.openRoutes(prototype).map((method) => `${String(name)}.${method}`);
    });
    if (open.length > 0) throw new Error(`these routes name no permission: ${open.join(', ')}`);
  }

  private openRoutes(prototype: object): string[] {
    return this.scanner.getAllMethodNames(prototype).filter((method) => {
      const handler = (prototype as Record<string, unknown>)[method] as () => unknown;
      const isRoute = Reflect.getMetadata(PATH_METADATA, handler) !== undefined;
      return isRoute && this.reflector.get<unknown>(ALLOWED, handler) === undefined;
    });
  }
}
