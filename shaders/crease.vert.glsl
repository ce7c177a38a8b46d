// One half of a crease or raw edge: the half that lies on one panel, as a thin strip inside that panel.
attribute vec2 corner; // x: 0 start, 1 end; y: 0 on the crease, 1 inside the panel
attribute vec4 ends; // flat x, y of start and end
attribute vec2 inward; // flat direction into the panel, unit length
attribute float panel;
attribute float beyond; // the panel across the crease, or -1
attribute vec3 pen; // kind, half width in pixels, marked (0 none, 1 hover, 2 chosen)

uniform float pixelsPerUnit; // screen pixels of one sheet unit at distance 1
uniform float dashScale;

varying float vAlong;
varying float vAcross;
varying float vLength;
varying vec3 vPen;
varying float vUp;
varying float vFolded; // 0 flat, 1 folded so far that it shows as an edge

void main() {
  vec2 start = ends.xy;
  vec2 end = ends.zw;
  vec2 onCrease = mix(start, end, corner.x);
  Placed middle = placeOnPanel(onCrease, panel);
  float far = max(0.05, length(cameraPosition - middle.world));
  float pixel = far / pixelsPerUnit;
  float halfWidth = pen.y + (pen.z > 1.5 ? 1.5 : pen.z > 0.5 ? 0.9 : 0.0);
  Placed placed = placeOnPanel(onCrease + inward * corner.y * (halfWidth + 1.0) * pixel, panel);
  vAcross = corner.y * (halfWidth + 1.0);
  vLength = length(end - start) / pixel * dashScale;
  vAlong = corner.x * vLength;
  vPen = vec3(pen.x, halfWidth, pen.z);
  vUp = dot(placed.normal, cameraPosition - placed.world);
  vFolded = 0.0;
  if (beyond > -0.5) {
    vec3 other = mat3(modelMatrix) * turn(panelTexel(beyond, 0), vec3(0.0, 0.0, 1.0));
    vFolded = smoothstep(0.06, 0.5, 1.0 - dot(placed.normal, normalize(other)));
  }
  gl_Position = toClip(placed, cameraPosition, pen.z > 0.5 ? 0.9 : 0.55);
}
