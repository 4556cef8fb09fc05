"""Annotated copies, opened by two PDF libraries that know nothing of this program.

    annotated.py RASTRUM WORK PAGES.pdf...

Each file is checked alone and annotated. Both libraries must list the same notes; the content of every page, bookmarks
and page labels must be those of the file, in the copy and once the notes are taken out by another program.
"""

import pathlib
import subprocess
import sys

import pikepdf
import pypdf


RAW, UNPACKED = pikepdf.Object.read_raw_bytes, pikepdf.Object.read_bytes


def notes_by_pypdf(copy):
    notes = []
    for page in pypdf.PdfReader(copy).pages:
        for annotation in page.get("/Annots") or []:
            annotation = annotation.get_object()
            if str(annotation.get("/T", "")) == "rastrum":
                assert annotation["/Subtype"] == "/Square" and annotation["/F"] & 4, annotation
                assert "/N" in annotation["/AP"] and "/M" not in annotation, annotation
                notes.append(str(annotation["/NM"]))
    return notes


def notes_by_pikepdf(pdf):
    own = [note for page in pdf.pages for note in page.get("/Annots", []) if str(note.get("/T", "")) == "rastrum"]
    return [str(note["/NM"]) for note in own]


def content(pdf, read):
    """Each page's streams: as they stand, or unpacked, since a library may pack anew what it writes."""
    pages = []
    for page in pdf.pages:
        own = page.get("/Contents")
        streams = list(own) if isinstance(own, pikepdf.Array) else [own] if own is not None else []
        pages.append(b"\n".join(read(stream) for stream in streams))
    return pages


def around(pdf):
    with pdf.open_outline() as outline:
        bookmarks = [str(item.title) for item in outline.root]
    labels = pdf.Root.get("/PageLabels")
    return bookmarks, labels.unparse(resolved=True) if labels is not None else None


def main():
    rastrum, work, files = sys.argv[1], pathlib.Path(sys.argv[2]), sys.argv[3:]
    noted = pages = updates = 0
    for file in files:
        copy = work / "annotated.pdf"
        copy.unlink(missing_ok=True)
        run = subprocess.run([rastrum, "check", file, "--annotate", copy, "--json", work / "annotated.json"], capture_output=True, text=True)
        assert run.returncode in (0, 1), run.stderr
        own, other = pathlib.Path(file).read_bytes(), copy.read_bytes()
        updates += other.startswith(own)
        one = notes_by_pypdf(copy)
        with pikepdf.open(file) as before, pikepdf.open(copy) as after:
            two = notes_by_pikepdf(after)
            assert one == two and len(set(one)) == len(one), (file, one, two)
            assert all(name.startswith("rastrum-") for name in one), one
            assert content(before, RAW) == content(after, RAW), file
            assert around(before) == around(after), file
            for page in after.pages:
                if "/Annots" in page:
                    page.Annots = pikepdf.Array([note for note in page.Annots if str(note.get("/T", "")) != "rastrum"])
            after.save(work / "stripped.pdf")
        with pikepdf.open(file) as before, pikepdf.open(work / "stripped.pdf") as after:
            assert content(before, UNPACKED) == content(after, UNPACKED), file
            pages += len(before.pages)
        noted += len(one)
    assert noted and updates, "no note at all, or no copy that begins with the file"
    print(
        f"annotated copies: {noted} notes on {pages} pages of {len(files)} files listed alike by two libraries, content "
        f"unchanged; {updates} of them begin with the bytes of their file"
    )


main()
