"""What is measured on printed pages against two programs that know nothing of this one: poppler and mupdf.

    printed_pages.py MEASURED_BOXES PAGES.pdf...

MEASURED_BOXES is the example of that name. Page sizes must agree; every measured word must be there, at its place, for
both; fonts that are told to be missing must be those that pdffonts finds not embedded.
"""

import html
import re
import subprocess
import sys

MM = 25.4 / 72
# A word's box is that of its ink here and of its type there.
NEAR = 4.0


def run(*command):
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


def measured(program, pdf):
    pages = {}
    for line in run(program, pdf).splitlines():
        number, kind, left, top, right, bottom, words = line.split("\t", 6)
        box = tuple(float(edge) for edge in (left, top, right, bottom))
        page = pages.setdefault(int(number), {"texts": [], "fonts": ""})
        if kind == "page":
            page["size"] = box[2:]
            page["fonts"] = words.split(" ", 1)[1] if " " in words else ""
        elif kind == "text":
            page["texts"].append((box, words.split(" ", 2)[2]))
    return pages


def poppler_sizes(pdf):
    text = run("pdfinfo", "-l", "99999", pdf)
    sizes = re.findall(r"Page\s+(\d+)\s+size:\s+([\d.]+) x ([\d.]+) pts", text)
    turned = dict(re.findall(r"Page\s+(\d+)\s+rot:\s+(\d+)", text))
    sizes = {int(n): (float(w) * MM, float(h) * MM) for n, w, h in sizes}
    return {n: size[::-1] if int(turned.get(str(n), 0)) % 180 else size for n, size in sizes.items()}


def poppler_words(pdf):
    words, page = {}, 0
    for line in run("pdftotext", "-bbox", pdf, "-").splitlines():
        page += line.lstrip().startswith("<page ")
        word = re.search(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*)</word>', line)
        if word:
            box = tuple(float(edge) * MM for edge in word.groups()[:4])
            words.setdefault(page, []).append((box, html.unescape(word[5])))
    return words


def mupdf_letters(pdf):
    letters, page = {}, 0
    for line in run("mutool", "draw", "-q", "-F", "stext", pdf).splitlines():
        page += line.lstrip().startswith("<page ")
        for quad, letter in re.findall(r'<char quad="([^"]*)"[^>]* c="([^"]*)"', line):
            edges = [float(edge) * MM for edge in quad.split()]
            box = (min(edges[0::2]), min(edges[1::2]), max(edges[0::2]), max(edges[1::2]))
            letters.setdefault(page, []).append((box, html.unescape(letter)))
    return letters


def near(one, other):
    return all(a - NEAR <= b for a, b in zip((one[0], one[1], other[0], other[1]), (other[2], other[3], one[2], one[3])))


def plain(text):
    return "".join(letter for letter in text if letter.isalnum())


def found(box, text, words):
    """Whether all letters of a text stand near its box, in whichever pieces."""
    there = plain("".join(word for other, word in words if near(box, other)))
    return all(plain(word) in there for word in text.split())


def main():
    program, pdfs = sys.argv[1], sys.argv[2:]
    wrong, pages_told, texts_told = [], 0, 0
    for pdf in pdfs:
        own, sizes = measured(program, pdf), poppler_sizes(pdf)
        words, letters = poppler_words(pdf), mupdf_letters(pdf)
        if set(own) != set(sizes):
            wrong.append(f"{pdf}: {len(own)} pages for {len(sizes)}")
        missing = {line.split()[0] for line in run("pdffonts", pdf).splitlines()[2:] if re.search(r"\s(no)\s+(yes|no)\s+(yes|no)\s", line) and " Type 3 " not in line}
        told = {name for page in own.values() for name in page["fonts"].split(", ") if name}
        if missing != told:
            wrong.append(f"{pdf}: fonts {told} for {missing}")
        for number, page in own.items():
            pages_told += 1
            lies = abs(page["size"][0] - sizes[number][0]) > 1 and abs(page["size"][0] - sizes[number][1]) < 1
            size = sizes[number][::-1] if lies else sizes[number]
            if any(abs(a - b) > 0.02 for a, b in zip(page["size"], size)):
                wrong.append(f"{pdf} page {number}: {page['size']} for {size}")
            if lies:
                continue
            for box, text in page["texts"]:
                texts_told += 1
                for tool, there in (("poppler", words), ("mupdf", letters)):
                    if not found(box, text, there.get(number, [])):
                        wrong.append(f"{pdf} page {number}: {text!r} not found by {tool}")
    share = 100 * len(wrong) / max(1, texts_told)
    print(f"printed pages: {pages_told} pages and {texts_told} texts of {len(pdfs)} files as poppler and mupdf have them, {len(wrong)} otherwise ({share:.2f} %)")
    for line in wrong[:20]:
        print("  " + line)
    # Poppler and mupdf themselves differ in how they divide stacked figures.
    sys.exit(1 if share > 0.5 else 0)


main()
