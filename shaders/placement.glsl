// Where each panel is: read from a small texture, so that a new pose costs one upload and nothing else.
// Texels of a panel: 0 rotation (x, y, z, w); 1 translation, level; 2 lit (0..2), bend in degrees, opacity, lift.
uniform sampler2D placementOf;
// From one layer to the next, sheet units: a thickness of paper, more where the layers are pulled apart.
uniform float spacing;
// Sheet units by which lines are held off the paper that they lie on.
uniform float lineLift;
// The half of the model with dot(place, xyz) > w is cut away.
uniform vec4 cutPlane;

const int PANELS_PER_ROW = 256;

vec4 panelTexel(float panel, int which) {
  int p = int(panel + 0.5);
  return texelFetch(placementOf, ivec2((p % PANELS_PER_ROW) * 3 + which, p / PANELS_PER_ROW), 0);
}

vec3 turn(vec4 q, vec3 v) {
  return v + 2.0 * cross(q.xyz, cross(q.xyz, v) + q.w * v);
}

struct Placed {
  vec3 world;
  vec3 normal;
  float beyondCut;
};

// Layers lie truly apart, along their panel's normal, and bent aside where they graze; nothing is told apart by tricks
// of depth.
Placed placeOnPanel(vec2 flatAt, float panel, float rise, vec3 aside, float lift) {
  vec4 rotation = panelTexel(panel, 0);
  vec4 shift = panelTexel(panel, 1);
  float off = (rise + shift.w) * spacing + panelTexel(panel, 2).w;
  vec3 local = turn(rotation, vec3(flatAt, off)) + shift.xyz + aside;
  vec3 up = turn(rotation, vec3(0.0, 0.0, 1.0));
  Placed placed;
  placed.world = (modelMatrix * vec4(local, 1.0)).xyz;
  placed.normal = normalize(mat3(modelMatrix) * up);
  placed.beyondCut = dot(local, cutPlane.xyz) - cutPlane.w;
  float facing = sign(dot(placed.normal, cameraPosition - placed.world));
  placed.world += placed.normal * facing * lift;
  return placed;
}

vec4 toClip(vec3 world) {
  return projectionMatrix * viewMatrix * vec4(world, 1.0);
}

// Outside of everything that is drawn.
const vec4 NOWHERE = vec4(2.0, 2.0, 2.0, 1.0);
