attribute vec2 flatAt;
attribute float panel;
attribute float beyond; // of a seam between two leaves the panel across; else the panel itself
attribute float rise;
attribute float seam; // 0 paper; between two leaves 1 on the first, -1 on the second
attribute float riseBeyond;
attribute vec4 seamEnds; // flat x, y of a seam's ends
attribute vec3 aside; // how far the corner is bent aside
attribute vec3 asideStart; // the same of a seam's ends, alike on both its leaves
attribute vec3 asideEnd;

uniform float seamOpacity;
uniform float pixelsPerUnit;

varying vec2 vFlat;
varying vec3 vWorld;
varying vec3 vNormal;
varying vec4 vMarks;
varying float vSeam;
varying float vFacing;
varying float vBeyondCut;

// Seams seen from their edge fade, so that none comes and goes at once; a raster errs in the depth of slivers.
const float SLIVER = 0.3;
const float BROAD = 1.0;

struct Seam {
  float pixels; // its width on screen
  float layers; // how many layers it goes across
  float facing; // 1 where its side that faced up at the start looks at the eye
};

float pixelsApart(vec3 one, vec3 other) {
  vec4 a = toClip(one);
  vec4 b = toClip(other);
  vec2 apart = a.xy / a.w - b.xy / b.w;
  return length(apart / vec2(projectionMatrix[0][0], projectionMatrix[1][1])) * pixelsPerUnit;
}

// Reckoned in one order for all corners of a seam, so that they come to the same answer.
Seam measureSeam() {
  bool onFirst = seam > 0.0;
  float one = onFirst ? panel : beyond;
  float other = onFirst ? beyond : panel;
  float riseOne = onFirst ? rise : riseBeyond;
  float riseOther = onFirst ? riseBeyond : rise;
  vec3 a0 = placeOnPanel(seamEnds.xy, one, riseOne, asideStart, 0.0).world;
  vec3 a1 = placeOnPanel(seamEnds.zw, one, riseOne, asideEnd, 0.0).world;
  vec3 b0 = placeOnPanel(seamEnds.xy, other, riseOther, asideStart, 0.0).world;
  vec3 b1 = placeOnPanel(seamEnds.zw, other, riseOther, asideEnd, 0.0).world;
  Seam found;
  found.pixels = max(pixelsApart(a0, b0), pixelsApart(a1, b1));
  found.layers = length(a0 - b0) / spacing;
  found.facing = sign(dot(cross(b1 - b0, a1 - b0), cameraPosition - b0));
  return found;
}

void main() {
  Placed placed = placeOnPanel(flatAt, panel, rise, aside, 0.0);
  vFlat = flatAt;
  vWorld = placed.world;
  vNormal = placed.normal;
  vMarks = panelTexel(panel, 2);
  vSeam = abs(seam);
  vBeyondCut = placed.beyondCut;
  float opacity = min(vMarks.z, panelTexel(beyond, 2).z) * mix(1.0, seamOpacity, vSeam);
  vFacing = 0.0;
  if (seam != 0.0) {
    Seam found = measureSeam();
    opacity *= smoothstep(SLIVER, BROAD, found.pixels);
    vFacing = found.facing;
    // Folds lie in one another: the seam across more layers goes round the others.
    vec3 toward = normalize(cameraPosition - placed.world);
    placed.world += toward * 0.3 * lineLift * found.layers;
  }
  vMarks.z = opacity;
#ifdef GLASS
  bool shown = opacity < 0.999 && opacity > 0.004;
#else
  bool shown = opacity >= 0.999;
#endif
  gl_Position = shown ? toClip(placed.world) : NOWHERE;
}
