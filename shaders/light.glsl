// One soft lamp over the left shoulder, the room around it, and light thrown back by the table.
uniform vec3 lampToward;
uniform mat4 lampMatrix;
uniform sampler2D lampDepth;
uniform float roomLight;

float lampReaches(vec3 world, vec3 normal) {
  vec3 from = world + normal * 0.006;
  vec4 seen = lampMatrix * vec4(from, 1.0);
  vec3 at = seen.xyz * 0.5 + 0.5;
  if (at.x < 0.0 || at.y < 0.0 || at.x > 1.0 || at.y > 1.0) return 1.0;
  float spin = fract(52.9829189 * fract(dot(gl_FragCoord.xy, vec2(0.06711056, 0.00583715)))) * 6.2831853;
  float lit = 0.0;
  for (int i = 0; i < 7; i++) {
    float reach = sqrt((float(i) + 0.5) / 7.0) * 0.012;
    float way = spin + float(i) * 2.3999632;
    float depth = texture2D(lampDepth, at.xy + reach * vec2(cos(way), sin(way))).r;
    lit += at.z - 0.0022 > depth ? 0.0 : 1.0;
  }
  return lit / 7.0;
}

// Light where nothing stands before the lamp; `reached` is the share of the lamp that comes through.
vec3 lightFrom(vec3 normal, float reached) {
  float lamp = smoothstep(-0.25, 1.0, dot(normal, lampToward)) * reached;
  float sky = 0.5 + 0.5 * normal.z;
  vec3 room = mix(vec3(0.60, 0.565, 0.53), vec3(0.76, 0.765, 0.775), sky) * roomLight;
  return room + lamp * vec3(0.485, 0.475, 0.455);
}

vec3 openLight(vec3 normal) {
  return lightFrom(normal, 1.0);
}

vec3 lightOn(vec3 world, vec3 normal) {
  bool lit = dot(normal, lampToward) > 0.0;
  return lightFrom(normal, lit ? mix(0.30, 1.0, lampReaches(world, normal)) : 1.0);
}

vec3 toLinear(vec3 c) {
  return pow(c, vec3(2.2));
}

vec3 toScreen(vec3 c) {
  return pow(clamp(c, 0.0, 1.0), vec3(1.0 / 2.2));
}
