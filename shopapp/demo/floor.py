"""What the floor saw of single pieces: how they came in, what they are worth, what came along."""

LOOKED = {"cracked": "no", "chipped": "no", "welded": "no", "missing_bits": "no"}
"""What is always looked at on a piece of the story."""

LOOKS: dict[tuple[int, int], dict[str, str]] = {
    (1161, 1): {"rusted": "yes", "bent": "no"},
    (1161, 2): {"rusted": "no", "bent": "no"},
    (1163, 4): {"chipped": "yes"},
    (1165, 1): {"rusted": "yes", "bent": "no"},
    (1168, 1): {"missing_bits": "not_looked"},
    (1173, 1): {"rusted": "no", "bent": "no"},
    (1174, 1): {"welded": "yes"},
    (1182, 1): {"cracked": "yes", "welded": "no"},
    (1186, 1): {"bent": "yes"},
}
"""What was seen beside or against that, job and piece."""

DECLARED: dict[tuple[int, int], tuple[str, str]] = {
    (1161, 1): ("420.00", "customer"),
    (1161, 2): ("420.00", "customer"),
    (1164, 1): ("275.00", "customer"),
    (1166, 1): ("310.00", "customer"),
    (1173, 1): ("", "customer"),
    (1174, 1): ("310.00", "customer"),
    (1174, 2): ("310.00", "shop"),
    (1182, 1): ("310.00", "customer"),
    (1190, 1): ("185.00", "customer"),
    (1190, 2): ("185.00", "customer"),
}
"""What the customer said that it is worth, and who carries the risk; an empty value: none was declared."""

BITS: dict[tuple[int, int], tuple[str, ...]] = {
    (1161, 1): ("shaft key 3/8", "set screw"),
    (1166, 1): ("two set screws",),
    (1171, 1): ("cotter pin and washer",),
    (1172, 1): ("8 mm key",),
    (1182, 1): ("key 5/8, worn",),
    (1185, 1): ("grease nipple",),
}
"""What came along with a piece."""

SHOWN_FINISHED = (1161, 1163, 1171, 1177, 1190)
"""Jobs whose pieces had their photo taken when they were done."""

CHECKED: dict[tuple[int, int], tuple[tuple[str, str, str], ...]] = {
    (1161, 1): (
        ("outside A", "8.875", "dial caliper"), ("shoulder A", "1.051", "depth micrometer"),
        ("outside B", "8.875", "dial caliper"), ("shoulder B", "1.449", "depth micrometer"),
        ("web left", ".351", "dial caliper"),
    ),
    (1190, 1): (("groove bottom A", "7.562", "dial caliper"),),
}  # fmt: skip
"""Sizes of the finished piece: its name on the final check, as read, the instrument. The prediction is run on them."""
