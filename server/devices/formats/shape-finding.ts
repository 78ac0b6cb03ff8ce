/** One thing that is wrong, and where: `fields[2].map`, `samples[1]`. */
export interface ShapeFinding {
  place: string;
  why: string;
  got: string;
}
