// One half of a crease or raw edge: the half that lies on one leaf, as a thin strip inside that leaf.
attribute vec2 corner; // x: 0 start, 1 end; y: 0 on the crease, 1 inside the leaf
attribute vec4 ends; // flat x, y of the crease's start and end
attribute vec2 span; // shares of the crease between which the strip runs
attribute vec2 inward; // flat direction into the leaf, unit length
attribute float panel;
attribute float beyond; // the panel across the crease, or -1
attribute float rise;
attribute vec3 asideStart; // how far the strip's ends are bent aside
attribute vec3 asideEnd;
attribute vec3 asideInward; // and how that changes inward, each sheet unit
attribute vec3 pen; // kind, half width in pixels, marked (0 none, 1 hover, 2 chosen)

uniform float pixelsPerUnit; // screen pixels of one sheet unit at distance 1
uniform float dashScale;

varying float vAlong;
varying float vAcross;
varying float vLength;
varying vec3 vPen;
varying float vUp;
varying float vFolded; // 0 flat, 1 folded so far that it shows as an edge
varying float vOpacity;
varying float vGlass; // 1 on paper that is seen through
varying float vBeyondCut;

void main() {
  vec2 start = ends.xy;
  vec2 end = ends.zw;
  float at = mix(span.x, span.y, corner.x);
  vec2 onCrease = mix(start, end, at);
  vec3 aside = mix(asideStart, asideEnd, corner.x);
  Placed middle = placeOnPanel(onCrease, panel, rise, aside, lineLift);
  float far = max(0.05, length(cameraPosition - middle.world));
  float pixel = far / pixelsPerUnit;
  float halfWidth = pen.y + (pen.z > 1.5 ? 1.5 : pen.z > 0.5 ? 0.9 : 0.0);
  // Glass keeps its edges; paper that is taken off loses them last.
  vGlass = 1.0 - smoothstep(0.35, 0.9, panelTexel(panel, 2).z);
  float wide = halfWidth + 1.0 + vGlass * GLASS_RIM;
  float deep = corner.y * wide * pixel;
  Placed placed = placeOnPanel(onCrease + inward * deep, panel, rise, aside + asideInward * deep, lineLift);
  vAcross = corner.y * wide;
  vLength = length(end - start) / pixel * dashScale;
  vAlong = at * vLength;
  vPen = vec3(pen.x, halfWidth, pen.z);
  vUp = dot(placed.normal, cameraPosition - placed.world);
  vFolded = 0.0;
  if (beyond > -0.5) {
    vec3 other = mat3(modelMatrix) * turn(panelTexel(beyond, 0), vec3(0.0, 0.0, 1.0));
    vFolded = smoothstep(0.06, 0.5, 1.0 - dot(placed.normal, normalize(other)));
  }
  vBeyondCut = placed.beyondCut;
  vOpacity = clamp(panelTexel(panel, 2).z / 0.12, 0.0, 1.0);
  gl_Position = vOpacity > 0.01 && pen.y > 0.0 ? toClip(placed.world) : NOWHERE;
}
