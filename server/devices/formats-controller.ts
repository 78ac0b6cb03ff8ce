import {
  type Answer,
  type Command,
  type Fault,
  type LineShape,
  type LinkName,
  SHAPE_FILE_VERSION,
  type ShapeFile,
} from '@taptrue/protocol';
import { refused } from '../state/answers.ts';
import { describeShapes, type ShapeDescription } from './formats/describe-shapes.ts';
import { readShapeFile, shapeFileFault } from './formats/files/read-shape-file.ts';
import { SHIPPED, ShapeTable } from './formats/shape-table.ts';
import {
  asShapeFile,
  MOST_SHAPE_FILES,
  readOwnShapes,
  removeOwnShape,
  shapeNameTaken,
  writeOwnShape,
} from './shape-folder.ts';

export const SHAPE_KINDS = ['keep shape', 'remove shape', 'import shape'] as const;

export type ShapeCommand = Extract<Command, { kind: (typeof SHAPE_KINDS)[number] }>;

/** Raw bytes remembered of each open device: some sixty lines, enough to teach its shape from. */
const TAIL_BYTES = 2048;

export interface ShapesRoomOptions {
  /** Line shapes belong to the shop, as block sets do, not to one bench. */
  folder: string;
  raise(from: string, fault: Fault): void;
  /** Which device is read by this shape now; null: none. */
  usedBy(name: string): LinkName | null;
}

/** The shop's own line shapes beside those that ship, and the raw bytes to teach new ones from. */
export class FormatsController {
  readonly #options: ShapesRoomOptions;
  readonly #tails: Record<LinkName, Buffer> = {
    indicator: Buffer.alloc(0),
    readout: Buffer.alloc(0),
  };
  #table = SHIPPED;

  constructor(options: ShapesRoomOptions) {
    this.#options = options;
  }

  /** Reads the folder. A file that cannot be used is a fault that names file, line and field. */
  open(): void {
    const { shapes, faults } = readOwnShapes(this.#options.folder);
    this.#table = new ShapeTable(shapes);
    for (const { file, fault } of faults) this.#options.raise(`shapes/${file}`, fault);
  }

  get table(): ShapeTable {
    return this.#table;
  }

  list(): ShapeDescription[] {
    return describeShapes(this.#table);
  }

  /** A shape as it would be exported, a shipped one too: a copy is a good beginning. */
  file(name: string): ShapeFile | null {
    const shape = this.#table.named(name);
    return shape && asShapeFile(shape);
  }

  /** Bytes of an open device, as they came; null: another device, what was heard before is not its own. */
  heard(link: LinkName, chunk: Uint8Array | null): void {
    const held = this.#tails[link];
    this.#tails[link] =
      chunk === null ? Buffer.alloc(0) : Buffer.concat([held, chunk]).subarray(-TAIL_BYTES);
  }

  /** What came last from this device, Latin-1, at most 2048 characters. */
  lastBytes(link: LinkName): string {
    return this.#tails[link].toString('latin1');
  }

  async command(command: ShapeCommand): Promise<Answer> {
    try {
      switch (command.kind) {
        case 'keep shape':
          return await this.#take(
            JSON.stringify({ taptrueShape: SHAPE_FILE_VERSION, shape: command.shape }),
            command.over,
          );
        case 'import shape':
          return await this.#take(command.text, command.over);
        case 'remove shape':
          return await this.#remove(command.name);
      }
    } catch (error) {
      return refused({
        code: 'not-kept',
        what: 'The line shape could not be written.',
        got: error instanceof Error ? error.message : String(error),
        remedy: 'Make room or change the rights of the data folder, and try again.',
      });
    }
  }

  async #take(text: string, over: boolean): Promise<Answer> {
    const read = readShapeFile(text);
    if (!read.ok) return refused(shapeFileFault('that was given', read.findings));
    const { shape } = read;
    if (SHIPPED.named(shape.name)) return refused(shapeNameTaken(shape.name));
    const before = this.#table.named(shape.name);
    if (before && !over && JSON.stringify(before) !== JSON.stringify(shape)) {
      return refused({
        ...shapeNameTaken(shape.name, `${before.title} (here already)`),
        remedy: 'Give the new one another name, or say that it takes the place of the old one.',
      });
    }
    const user = before && this.#options.usedBy(shape.name);
    if (user) return refused(shapeInUse(shape, user));
    if (!before && this.#table.own.length >= MOST_SHAPE_FILES) return refused(tooManyShapes());
    if (before) await removeOwnShape(this.#options.folder, shape.name);
    await writeOwnShape(this.#options.folder, shape);
    this.#table = new ShapeTable([...this.#withoutNamed(shape.name), shape]);
    return { ok: true, note: `"${shape.title}" is kept. It can be chosen for a device now.` };
  }

  async #remove(name: string): Promise<Answer> {
    const shape = this.#table.own.find((one) => one.name === name);
    if (!shape) {
      return refused({
        code: 'not-on-the-shelf',
        what: 'There is no such line shape of the shop’s own.',
        got: name,
        remedy: 'Those that ship stay. Pick one of your own from the list.',
      });
    }
    const user = this.#options.usedBy(name);
    if (user) return refused(shapeInUse(shape, user));
    await removeOwnShape(this.#options.folder, name);
    this.#table = new ShapeTable(this.#withoutNamed(name));
    return { ok: true, note: `"${shape.title}" is removed.` };
  }

  #withoutNamed(name: string): LineShape[] {
    return this.#table.own.filter((one) => one.name !== name);
  }
}

function shapeInUse(shape: LineShape, user: LinkName): Fault {
  return {
    code: 'shape-in-use',
    what: `The ${user} is read by this line shape now.`,
    got: shape.title,
    remedy: `Disconnect the ${user} first, or give the new shape another name.`,
  };
}

function tooManyShapes(): Fault {
  return {
    code: 'too-many-shapes',
    what: `There are ${MOST_SHAPE_FILES} line shapes of the shop’s own already.`,
    got: '',
    remedy: 'Remove one that is no longer needed.',
  };
}
