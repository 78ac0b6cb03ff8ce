import { ShapeTable } from '../devices/formats/shape-table.ts';
import { readOwnShapes, shapesFolderOf } from '../devices/shape-folder.ts';
import { usualDataFolder } from '../files/data-folder.ts';

/** From which data folder (null: the usual one) to the line shapes that can be named. */
export type ShapesIn = (dataFolder: string | null) => ShapeTable;

/** Those that ship and the shop's own, read when asked for. Files that cannot be used are left out. */
export const ownShapesIn: ShapesIn = (dataFolder) =>
  new ShapeTable(readOwnShapes(shapesFolderOf(dataFolder ?? usualDataFolder())).shapes);
