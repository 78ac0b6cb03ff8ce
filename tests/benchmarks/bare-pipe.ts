import websocket from '@fastify/websocket';
import { ReadlineParser } from '@serialport/parser-readline';
import Fastify from 'fastify';
import { SerialPort } from 'serialport';

export interface Pipe {
  url: string;
  close(): Promise<void>;
}

const PAGE = `<!doctype html><title>bare pipe</title><p class="live-number"></p><script>
let latest = '';
const number = document.querySelector('.live-number');
new WebSocket('ws://' + location.host + '/stream').onmessage = (event) => { latest = event.data; };
(function frame() {
  requestAnimationFrame(frame);
  if (number.textContent !== latest) number.textContent = latest;
})();
</script>`;

/** The same libraries with nothing of ours between: port, line parser, socket, text in an animation frame. */
export async function barePipe(path: string): Promise<Pipe> {
  const app = Fastify({ forceCloseConnections: true });
  await app.register(websocket, { options: { perMessageDeflate: false } });
  app.get('/', async (_request, reply) => reply.type('text/html').send(PAGE));
  app.register(async (scope) => {
    scope.get('/stream', { websocket: true }, (socket) => {
      const send = (line: string) => socket.send(line);
      lines.on('data', send);
      socket.on('close', () => lines.off('data', send));
    });
  });
  const port = new SerialPort({ path, baudRate: 9600 });
  const lines = port.pipe(new ReadlineParser({ delimiter: '\r\n', encoding: 'latin1' }));
  // Without a listener the lines would wait in the parser and come as one gulp.
  lines.on('data', () => undefined);
  const url = await app.listen({ host: '127.0.0.1', port: 0 });
  return {
    url,
    async close() {
      await app.close();
      await new Promise<void>((resolve) => port.close(() => resolve()));
    },
  };
}
