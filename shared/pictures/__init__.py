"""Pictures: let in safely, made in the sizes a page needs, blanked, recognised again. Pillow, no Django.

- `opening`     what comes in is a still picture of known size, or is refused in plain words;
- `renditions`  what goes out: several widths and formats, without a word of metadata;
- `blanking`    faces and ring numbers painted over in the pixels themselves;
- `likeness`    the same photograph sent twice, resized or saved again, is noticed.
"""
