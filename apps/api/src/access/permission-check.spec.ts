import { Controller, Get, Module } from '@nestjs/common';
import { DiscoveryModule } from '@nestjs/core';
import { Test } from '@nestjs/testing';
import { describe, expect, test } from '@jest/globals';
import { Allow, AllowEveryone } from './allow.decorator.js';
import { PermissionCheck } from './permission-check.js';

@Controller('guarded')
class GuardedController {
  @Get()
  @Allow('records:read')
  guarded(): void { /* never called */ }

  @Get('open')
  @AllowEveryone()
  open(): void { /* never called */ }
}

@Controller('forgotten')
class ForgottenController extends GuardedController {
  @Get('forgotten')
  forgotten(): void { /* never called */ }
}

async function start(...controllers: (new () => object)[]): Promise<void> {
  @Module({ imports: [DiscoveryModule], controllers, providers: [PermissionCheck] })
  class TestModule {}
  const made = await Test.createTestingModule({ imports: [TestModule] }).compile();
  await made.init();
}

describe('PermissionCheck', () => {
  test('lets routes pass that name their permission, also inherited ones', async () => {
    await expect(start(GuardedController)).resolves.toBeUndefined();
  });

  test('keeps the program from starting when a route names none, and tells which', async () => {
    await expect(start(GuardedController, ForgottenController)).rejects.toThrow(
      'these routes name no permission: ForgottenController.forgotten',
    );
  });
});
