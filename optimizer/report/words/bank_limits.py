"""What a bank asks of its settings and surroundings."""

from optimizer.answers.assessment import Assessment
from optimizer.report.words.writer import Writer


def limits(write: Writer, found: Assessment) -> list[tuple[str, str]]:
    """Return what the bank asks of settings and surroundings: matter and sentence."""
    one = found.limits
    lines = [
        (
            write.say("Discharge"),
            write.say(
                "At most {most:figure} A, for the seconds of a start {start:figure} A; the "
                "inverters draw up to {largest:figure} A.",
                most=one.discharge_a,
                start=one.start_a,
                largest=one.largest_a,
            ),
        ),
        (
            write.say("Charge"),
            write.say(
                "At least {least:figure} A, at most {most:figure} A.",
                least=one.charge_least_a,
                most=one.charge_most_a,
            ),
        ),
        (write.say("Cut-off"), _cut_off(write, found)),
    ]
    if one.string_a is not None:
        strings = write.say(
            "{current:figure} A each if they share evenly: a fuse of its own of at least "
            "{fuse:figure} A in each, for the bank's voltage and short-circuit current, no more "
            "than its cable carries.",
            current=one.string_a,
            fuse=one.string_fuse_a,
        )
        lines.append((write.say("Strings"), strings))
    if one.opening_cm2 is not None:
        air = write.say(
            "{floating:figure} m³/h of fresh air on float, {boost:figure} m³/h while charging at "
            "the absorption voltage: an inlet and an outlet of {opening:number} cm² each; no spark "
            "or flame within {distance:number} mm of a gas opening (check against the current "
            "edition of IEC 62485-2).",
            floating=one.float_air_m3_per_h,
            boost=one.boost_air_m3_per_h,
            opening=one.opening_cm2,
            distance=one.spark_distance_mm,
        )
        lines.append((write.say("Air"), air))
    return lines


def _cut_off(write: Writer, found: Assessment) -> str:
    volts, depth = found.limits.cut_off_v, found.existing.battery.max_dod
    if volts is None:
        return write.say("Not known for this chemistry: as the maker's sheet says.")
    return write.say(
        "{volts:number.1} V under load for a depth of {depth:share} (common practice; the "
        "maker's sheet prevails). Voltage tells the charge roughly only.",
        volts=volts,
        depth=depth,
    )
