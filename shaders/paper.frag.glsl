uniform vec3 upColour;
uniform vec3 downColour;
uniform vec3 hatchColour;
uniform vec3 accent;
uniform float sheetSize;

varying vec2 vFlat;
varying vec3 vWorld;
varying vec3 vNormal;
varying vec4 vMarks;
varying float vSeam;
varying float vFacing; // of a seam, see paper.vert.glsl: a raster does not know the front of a sliver
varying float vBeyondCut;

float hash(vec2 p) {
  vec3 q = fract(vec3(p.xyx) * 0.1031);
  q += dot(q, q.yzx + 33.33);
  return fract((q.x + q.y) * q.z);
}

float noise(vec2 p) {
  vec2 cell = floor(p);
  vec2 f = p - cell;
  f = f * f * (3.0 - 2.0 * f);
  return mix(
    mix(hash(cell), hash(cell + vec2(1.0, 0.0)), f.x),
    mix(hash(cell + vec2(0.0, 1.0)), hash(cell + vec2(1.0, 1.0)), f.x),
    f.y
  );
}

// Pulp seen close: clouds of some millimetres, and short fibres lying mostly along the grain.
float fibre(vec2 mm) {
  float cloud = noise(mm * 0.16) * 0.6 + noise(mm * 0.5) * 0.4;
  float strand = noise(vec2(mm.x * 0.9 + mm.y * 0.5, mm.y * 3.6 - mm.x * 1.1));
  return (cloud - 0.5) * 0.03 + (strand - 0.5) * 0.026;
}

// Hatching of a bent panel: the lines draw together as the bend grows.
float hatch(vec2 at, float degrees) {
  float every = mix(0.05, 0.012, clamp(degrees / 45.0, 0.0, 1.0));
  float across = (at.x + at.y) * 0.70710678 / every;
  float width = fwidth(across);
  float d = abs(fract(across) - 0.5);
  return 1.0 - smoothstep(0.10, 0.10 + width * 1.2, 0.5 - d);
}

void main() {
  if (vBeyondCut > 0.0) discard;
#ifdef VEIL
  gl_FragColor = vec4(0.0);
#else
  bool up = vSeam > 0.5 ? vFacing > 0.0 : gl_FrontFacing;
  vec3 normal = normalize(up ? vNormal : -vNormal);
  // A seam between layers pulled apart stands across both of its panels.
  if (vSeam > 0.5) {
    vec3 across = cross(dFdx(vWorld), dFdy(vWorld));
    if (dot(across, across) > 0.0) normal = normalize(across);
  }
  vec3 base = toLinear(up ? upColour : downColour);
#ifdef GLASS
  // Faint paper needs neither its pulp nor the shadows on it.
  vec3 seen = base * openLight(normal);
#else
  base *= 1.0 + fibre(vFlat * sheetSize);
  vec3 seen = base * lightOn(vWorld, normal);
#endif
  // Paper lets a little light through: the shaded side keeps some warmth.
  seen += base * vec3(0.030, 0.026, 0.020) * max(0.0, dot(-normal, lampToward));
  if (vMarks.y > 0.3) seen = mix(seen, toLinear(hatchColour), 0.55 * hatch(vFlat, vMarks.y));
  seen = mix(seen, toLinear(accent), vMarks.x);
  gl_FragColor = vec4(toScreen(seen), vMarks.z);
#endif
}
