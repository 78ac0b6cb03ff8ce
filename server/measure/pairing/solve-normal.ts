/** Coefficients and their standard errors, by plain least squares. */
export interface NormalFit {
  coefficients: number[];
  standardErrors: number[];
}

/** A pivot smaller than this part of the largest is a column that says the same as others. */
const SINGULAR_BELOW = 1e-12;

/**
 * Least squares of `ys` on the columns of `rows`, by the normal equations with every column scaled to the
 * same size first, and pivoting. null where the columns cannot be told apart or there are too few rows.
 * For a handful of columns; source of the covariance: JCGM 100:2008 (GUM), H.3. Pure.
 */
export function solveNormal(
  rows: readonly (readonly number[])[],
  ys: readonly number[],
): NormalFit | null {
  const columns = rows[0]?.length ?? 0;
  if (rows.length <= columns) return null;
  const scales = Array.from({ length: columns }, (_, column) =>
    Math.sqrt(rows.reduce((sum, row) => sum + row[column]! ** 2, 0)),
  );
  if (scales.some((scale) => !(scale > 0))) return null;
  const scaled = rows.map((row) => row.map((value, column) => value / scales[column]!));
  const matrix = Array.from({ length: columns }, (_, one) => [
    ...Array.from({ length: columns }, (__, other) =>
      dot(scaled, (row) => row[one]! * row[other]!),
    ),
    ...Array.from({ length: columns }, (__, other) => (one === other ? 1 : 0)),
    scaled.reduce((sum, row, index) => sum + row[one]! * ys[index]!, 0),
  ]);
  if (!reduce(matrix, columns)) return null;
  const solution = matrix.map((row) => row[2 * columns]!);
  const residual = rows.reduce((sum, _row, index) => {
    const fitted = scaled[index]!.reduce(
      (total, value, column) => total + value * solution[column]!,
      0,
    );
    return sum + (ys[index]! - fitted) ** 2;
  }, 0);
  const variance = residual / (rows.length - columns);
  return {
    coefficients: solution.map((value, column) => value / scales[column]!),
    standardErrors: matrix.map(
      (row, column) => Math.sqrt(Math.max(0, variance * row[columns + column]!)) / scales[column]!,
    ),
  };
}

function dot(rows: readonly number[][], product: (row: number[]) => number): number {
  return rows.reduce((sum, row) => sum + product(row), 0);
}

/** Gauss-Jordan in place; false where a pivot vanishes. */
function reduce(matrix: number[][], columns: number): boolean {
  for (let column = 0; column < columns; column += 1) {
    let best = column;
    for (let row = column + 1; row < columns; row += 1) {
      if (Math.abs(matrix[row]![column]!) > Math.abs(matrix[best]![column]!)) best = row;
    }
    const pivot = matrix[best]![column]!;
    if (Math.abs(pivot) < SINGULAR_BELOW) return false;
    [matrix[column], matrix[best]] = [matrix[best]!, matrix[column]!];
    matrix[column] = matrix[column]!.map((value) => value / pivot);
    for (let row = 0; row < columns; row += 1) {
      if (row === column) continue;
      const factor = matrix[row]![column]!;
      matrix[row] = matrix[row]!.map((value, index) => value - factor * matrix[column]![index]!);
    }
  }
  return true;
}
