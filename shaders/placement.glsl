// Where each panel is: read from a small texture, so that a new pose costs one upload and nothing else.
// Texels of a panel: 0 rotation (x, y, z, w); 1 translation, level; 2 lit (0..2), bend in degrees, dim, unused.
uniform sampler2D placementOf;

const int PANELS_PER_ROW = 256;

// One level of paper, in clip depth. Far below what an eye can see, well above the rounding of the depth buffer.
const float LEVEL_DEPTH = 2.4e-5;

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
  float level;
};

Placed placeOnPanel(vec2 flatAt, float panel) {
  vec4 rotation = panelTexel(panel, 0);
  vec4 shift = panelTexel(panel, 1);
  vec3 local = turn(rotation, vec3(flatAt, 0.0)) + shift.xyz;
  Placed placed;
  placed.world = (modelMatrix * vec4(local, 1.0)).xyz;
  placed.normal = normalize(mat3(modelMatrix) * turn(rotation, vec3(0.0, 0.0, 1.0)));
  placed.level = shift.w;
  return placed;
}

// Panels of one plane are told apart by their level: the one nearer to the eye is drawn over the other.
vec4 toClip(Placed placed, vec3 eye, float lift) {
  vec4 clip = projectionMatrix * viewMatrix * vec4(placed.world, 1.0);
  float facing = sign(dot(placed.normal, eye - placed.world));
  clip.z -= (placed.level * facing + lift) * LEVEL_DEPTH * clip.w;
  return clip;
}
