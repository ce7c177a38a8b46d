uniform sampler2D shadow;
uniform vec3 shadeColour;
uniform float strength;

varying vec2 vAt;

void main() {
  float under = texture2D(shadow, vAt).r;
  float thrown = texture2D(shadow, vAt + vec2(-0.012, 0.014)).r;
  float dark = (0.55 * under + 0.45 * thrown) * strength;
  // Eight-bit steps would show as rings in so faint a gradient.
  dark += (fract(52.9829189 * fract(dot(gl_FragCoord.xy, vec2(0.06711056, 0.00583715)))) - 0.5) / 255.0;
  gl_FragColor = vec4(shadeColour * max(dark, 0.0), max(dark, 0.0));
}
