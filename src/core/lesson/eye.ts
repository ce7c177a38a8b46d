/** The seven named views, as places of the eye. */
export const viewNames = ['three-quarter', 'front', 'back', 'left', 'right', 'top', 'bottom'] as const;
export type ViewName = (typeof viewNames)[number];

/** A place of the eye, as plain data that can be kept and put back. */
export interface EyePlace {
  /** Round the table from the front, radians. */
  readonly bearing: number;
  /** Down from straight above, radians. */
  readonly fall: number;
  /** Distance as a multiple of what just frames the model. */
  readonly zoom: number;
}

const directions: Record<ViewName, readonly [number, number]> = {
  'three-quarter': [0.5, 0.98],
  front: [0, Math.PI / 2],
  back: [Math.PI, Math.PI / 2],
  left: [-Math.PI / 2, Math.PI / 2],
  right: [Math.PI / 2, Math.PI / 2],
  top: [0, 0.001],
  bottom: [0, Math.PI - 0.001],
};

export function eyeOf(view: ViewName): EyePlace {
  const [bearing, fall] = directions[view];
  return { bearing, fall, zoom: 1 };
}
