"""What an SVG may have in it, and why it may not have other things (SVG 1.1 second edition and SVG 2, W3C)."""

SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"
XHTML = "http://www.w3.org/1999/xhtml"
XML = "http://www.w3.org/XML/1998/namespace"

KNOWN = frozenset({
    "svg", "g", "defs", "symbol", "use", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon",
    "text", "tspan", "textPath", "title", "desc", "metadata", "style", "linearGradient", "radialGradient",
    "stop", "pattern", "clipPath", "mask", "marker", "image", "a", "switch", "view", "filter",
})  # fmt: skip
"""Elements that are drawn, or that say something of what is drawn."""

FILTERS = frozenset({
    "feGaussianBlur", "feOffset", "feMerge", "feMergeNode", "feFlood", "feComposite", "feBlend",
    "feColorMatrix", "feDropShadow", "feComponentTransfer", "feFuncR", "feFuncG", "feFuncB", "feFuncA",
})  # fmt: skip
"""Parts of a filter whose work is about the same for every value; the others can take as long as their author likes."""

WHY = {
    "foreignObject": "it contains a page of its own ('foreignObject')",
    "iframe": "it contains a page of its own ('iframe')",
    "flowRoot": "it has flowing text ('flowRoot'), which browsers do not show",
} | dict.fromkeys(
    ("animate", "animateTransform", "animateMotion", "animateColor", "set", "mpath"), "it moves ('{}')"
)  # fmt: skip
"""Why an element is refused, where there is more to say than that it is not known."""
