import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildApp } from '@taptrue/server/http/build-app.ts';
import { BenchService } from '@taptrue/server/service/bench-service.ts';
import type { Pipe } from './bare-pipe.ts';

export const BUILT_PAGE = fileURLToPath(new URL('../../web/dist', import.meta.url));

/** The service as it is started for a real indicator on `path`, with the page as it is shipped. */
export async function wholePipe(path: string): Promise<Pipe> {
  const dataFolder = await mkdtemp(join(tmpdir(), 'taptrue-bench-'));
  const service = await BenchService.start({
    name: 'bench',
    dataFolder,
    demo: false,
    addresses: [],
    connect: {
      indicator: {
        source: { kind: 'serial', path, settings: null },
        shape: 'signed-decimal',
        unit: 'as sent',
        channel: null,
      },
    },
  });
  const app = await buildApp(service, BUILT_PAGE);
  const url = await app.listen({ host: '127.0.0.1', port: 0 });
  return {
    url,
    async close() {
      await service.close();
      await app.close();
      await rm(dataFolder, { recursive: true, force: true });
    },
  };
}
