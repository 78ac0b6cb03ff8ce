import type { WebSocket } from '@fastify/websocket';
import { checkerOf, Painted, REPLAY_GONE_CODE, type Role } from '@taptrue/protocol';
import type { FastifyInstance } from 'fastify';
import type { BenchDoor } from '../service/bench-door.ts';
import { type Hub, MOST_SCREENS } from '../stream/hub.ts';
import { roleOf } from './role-of.ts';

const paintedCheck = checkerOf(Painted);

/** Close codes of RFC 6455: 1008 policy violation, 1013 try again later. */
const CLOSE_NOT_UNDERSTOOD = 1008;
const CLOSE_TOO_MANY = 1013;

/** The stream's routes, of the bench and of each replay. The only place that sends on a socket. */
export function liveSocket(app: FastifyInstance, door: BenchDoor): void {
  app.get('/stream', { websocket: true, schema: { hide: true } }, (socket, request) => {
    serve(socket, door.hub, roleOf(request, door.access));
  });

  app.get('/replay/:id/stream', { websocket: true, schema: { hide: true } }, (socket, request) => {
    const replay = door.replays.get((request.params as { id: string }).id);
    if (!replay) {
      socket.close(REPLAY_GONE_CODE, 'this replay is closed');
      return;
    }
    socket.on('close', () => replay.left());
    serve(socket, replay.hub, roleOf(request, door.access));
  });
}

/** Listeners are attached before anything else. */
function serve(socket: WebSocket, hub: Hub, role: Role): void {
  let joined: ReturnType<Hub['join']> | null = null;
  socket.on('error', () => socket.terminate());
  socket.on('close', () => joined?.leave());
  socket.on('message', (data: Buffer) => {
    const checked = paintedCheck.parse(data.toString('utf8'));
    if (checked.ok) joined?.painted(checked.value.sequence, checked.value.visible);
    else socket.close(CLOSE_NOT_UNDERSTOOD, `not understood: ${checked.why}`.slice(0, 120));
  });
  if (hub.screens >= MOST_SCREENS) {
    socket.close(CLOSE_TOO_MANY, `${MOST_SCREENS} screens are open already`);
    return;
  }
  joined = hub.join({
    role,
    bufferedBytes: () => socket.bufferedAmount,
    send: (text) => {
      if (socket.readyState === socket.OPEN) socket.send(text);
    },
    cut: () => socket.terminate(),
  });
}
