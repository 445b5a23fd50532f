"""How light falls on things: the lamps' plain diffuse light, and a gleam on what is glossy.

The toolkit works out a gleam for every lamp on every pixel, wanted or not. Drawn in software that is a third of
the time of a picture, so the sum over the lamps is written out here instead.
"""

from vtkmodules.vtkRenderingCore import vtkActor

from floorpan_app.viewport.lamps import LAMPS

_SUM = "\n".join(
    f"  lit += max(0.0, dot(normalVCVSOutput, -lightDirectionVC{lamp})) * lightColor{lamp};"
    for lamp in range(LAMPS)
)
_GLEAM = """
  vec3 towards = normalize(reflect(lightDirectionVC0, normalVCVSOutput));
  gleam = pow(max(1e-5, dot(towards, normalize(-vertexVC.xyz))), specularPower) * specularColor;"""
_FORMULA = """
  vec3 lit = vec3(0.0);
  vec3 gleam = vec3(0.0);
{total}{gleam}
  gl_FragData[0] = vec4(ambientColor + lit * diffuseColor + gleam, opacity);
"""

# Towards the eye, as a share of the depth that is drawn: a line on a surface is not eaten by it.
_LIFT = """//VTK::CustomEnd::Impl
  gl_Position.z -= {share} * gl_Position.w;
"""


def shade(actor: vtkActor, *, glossy: bool) -> None:
    """Light an actor our way."""
    code = _FORMULA.format(total=_SUM, gleam=_GLEAM if glossy else "")
    actor.GetShaderProperty().AddFragmentShaderReplacement("//VTK::Light::Impl", True, code, False)


def paint_over(actor: vtkActor, code: str) -> None:
    """Give an actor a colour of its own at each pixel, whatever the light."""
    actor.GetShaderProperty().AddFragmentShaderReplacement("//VTK::Light::Impl", True, code, False)


def lift(actor: vtkActor, share: float = 4e-4) -> None:
    """Draw an actor a little nearer than it is."""
    code = _LIFT.format(share=share)
    actor.GetShaderProperty().AddVertexShaderReplacement("//VTK::CustomEnd::Impl", True, code, False)
