uniform vec3 upColour;
uniform vec3 downColour;
uniform vec3 rimColour;
uniform float capWidth;

varying float vSide;

void main() {
  vec3 colour = mix(downColour, upColour, smoothstep(-0.5, 0.5, vSide));
  float rim = smoothstep(capWidth - 1.9, capWidth - 1.1, abs(vSide));
  float cover = clamp(capWidth - abs(vSide), 0.0, 1.0);
  gl_FragColor = vec4(mix(colour, rimColour, 0.85 * rim), cover);
}
