import { SHIPPED, type ShapeTable } from './shape-table.ts';

export interface ShapeDescription {
  name: string;
  title: string;
  trigger: string;
  /** The port settings it usually comes with, `9600 baud, 8N1`. */
  port: string;
  /** The first sample, control bytes as they are. */
  example: string;
  /** The shop's own: it can be removed. */
  own: boolean;
}

/** The shapes as a screen lists them, those that ship first. */
export function describeShapes(table: ShapeTable = SHIPPED): ShapeDescription[] {
  return table.all.map((shape) => {
    const { name, title, trigger, port, samples } = shape;
    return {
      name,
      title,
      trigger,
      port: `${port.baudRate} baud, ${port.dataBits}${port.parity[0]!.toUpperCase()}${port.stopBits}`,
      example: samples[0]!.frame,
      own: table.own.includes(shape),
    };
  });
}
