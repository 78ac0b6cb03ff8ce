import { checkerOf, Painted } from '@taptrue/protocol';
import type { FastifyInstance } from 'fastify';
import type { BenchDoor } from '../http/bench-door.ts';
import { roleOf } from '../http/role-of.ts';
import { MOST_SCREENS } from './hub.ts';

const paintedCheck = checkerOf(Painted);

/** Close codes of RFC 6455: 1008 policy violation, 1013 try again later. */
const CLOSE_NOT_UNDERSTOOD = 1008;
const CLOSE_TOO_MANY = 1013;

/** The stream's route. The only place that sends on a socket; listeners are attached before anything else. */
export function liveSocket(app: FastifyInstance, door: BenchDoor): void {
  app.get('/stream', { websocket: true, schema: { hide: true } }, (socket, request) => {
    let joined: ReturnType<typeof door.hub.join> | null = null;
    socket.on('error', () => socket.terminate());
    socket.on('close', () => joined?.leave());
    socket.on('message', (data: Buffer) => {
      const checked = paintedCheck.parse(data.toString('utf8'));
      if (checked.ok) joined?.painted(checked.value.sequence, checked.value.visible);
      else socket.close(CLOSE_NOT_UNDERSTOOD, `not understood: ${checked.why}`.slice(0, 120));
    });
    if (door.hub.screens >= MOST_SCREENS) {
      socket.close(CLOSE_TOO_MANY, `${MOST_SCREENS} screens are open already`);
      return;
    }
    joined = door.hub.join({
      role: roleOf(request, door.access),
      bufferedBytes: () => socket.bufferedAmount,
      send: (text) => {
        if (socket.readyState === socket.OPEN) socket.send(text);
      },
      cut: () => socket.terminate(),
    });
  });
}
