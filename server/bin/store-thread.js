// A thread starts from plain JavaScript; this lets it read the TypeScript as it stands, like bin/taptrue.js.
const { register } = await import('tsx/esm/api');
register();
await import('../records/store/store-worker.ts');
