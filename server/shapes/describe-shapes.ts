import { SHAPES } from './shape-table.ts';

/** The shapes as a screen lists them, with the port settings they usually come with. */
export function describeShapes() {
  return SHAPES.map(({ name, title, trigger, port }) => ({
    name,
    title,
    trigger,
    port: `${port.baudRate} baud, ${port.dataBits}${port.parity[0]!.toUpperCase()}${port.stopBits}`,
  }));
}
