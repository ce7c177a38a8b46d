uniform vec3 inkUp[6];
uniform vec3 inkDown[6];
uniform vec3 inkGlass[6];
uniform vec3 ground; // what glass lies on
uniform vec3 accent;

varying float vAlong;
varying float vAcross;
varying float vLength;
varying vec3 vPen;
varying float vUp;
varying float vFolded;
varying float vOpacity;
varying float vGlass;
varying float vBeyondCut;

const float MOUNTAIN = 0.0;
const float VALLEY = 1.0;
const float UNASSIGNED = 2.0;
const float FLAT = 3.0;

bool isKind(float kind) {
  return abs(vPen.x - kind) < 0.5;
}

// Coverage of a dash from a to b along the line, softened over a pixel.
float dash(float at, float a, float b) {
  return clamp(min(at - a, b - at) + 0.5, 0.0, 1.0);
}

void main() {
  if (vBeyondCut > 0.0) discard;
  float drawn = 1.0;
#ifdef HIDDEN
  // What another layer hides is dotted, whatever its kind; lines that are no edge are left out.
  if (isKind(FLAT) || (vFolded < 0.5 && vPen.x < 3.5)) discard;
  drawn = mix(0.75, 1.0, vGlass) * dash(mod(vAlong, 5.5), 0.0, 1.7);
#else
  if (isKind(VALLEY)) {
    drawn = dash(mod(vAlong, 12.0), 0.0, 7.5);
  } else if (isKind(MOUNTAIN)) {
    float at = mod(vAlong, 24.0);
    drawn = max(dash(at, 0.0, 11.0), max(dash(at, 14.0, 16.0), dash(at, 19.0, 21.0)));
  } else if (isKind(UNASSIGNED)) {
    drawn = dash(mod(vAlong, 20.0), 0.0, 16.0);
  } else if (isKind(FLAT)) {
    drawn = 0.7 * dash(vAlong, min(5.0, 0.1 * vLength), vLength - min(5.0, 0.1 * vLength));
  }
  // A folded crease is an edge of the model as well: a faint line joins its dashes.
  drawn = max(drawn, 0.5 * vFolded);
  if (vPen.z > 1.5) drawn = max(drawn, 0.85);
#endif
  float cover = drawn * clamp(vPen.y - vAcross + 0.5, 0.0, 1.0);
  // However many layers of whatever colour lie over one another, a line on glass stands on a strip of the table's.
  float rim = 0.8 * vGlass * clamp(vPen.y + GLASS_RIM - vAcross + 0.5, 0.0, 1.0);
  float whole = cover + rim * (1.0 - cover);
  if (whole < 0.02) discard;
  int kind = int(vPen.x + 0.5);
  bool up = vUp > 0.0;
  vec3 ink = up ? inkUp[kind] : inkDown[kind];
  ink = mix(ink, inkGlass[kind], vGlass);
  if (vPen.z > 0.5) ink = accent;
  vec3 seen = toLinear(mix(ground, ink, cover / whole));
  gl_FragColor = vec4(toScreen(seen), whole * vOpacity * (vPen.z > 0.5 ? 1.0 : 0.9));
}
