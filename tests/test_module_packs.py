"""Modules sent in packs: each has one home, all that it exported comes out of it, and no form of import or export is overlooked."""

import re

import pytest

from board.module_packs import EXPORTED, FOLDER, IMPORTED, ModulePacks, our_packs

TEXTS = {
    "js/elements/h.js": 'const kept = 1;\nexport const h = () => kept;\nexport function swap() {}\n',
    "js/screens/state.js": (
        'import { h as make } from "../elements/h.js";\n// Why.\nexport class State {}\nexport const made = make();\n'
    ),
    "js/screens/undo.js": 'import { State } from "./state.js";\nexport const undo = new State();\n',
    "js/screens/desk.js": 'import { State } from "./state.js";\nnew State();\nimport("./undo.js");\n',
    "js/screens/wall.js": 'import { h } from "../elements/h.js";\nh();\n',
}


@pytest.fixture
def packs() -> ModulePacks:
    return ModulePacks(TEXTS, ["js/screens/desk.js", "js/screens/wall.js"])


def test_a_pack_holds_what_the_same_screens_need(packs):
    assert packs.packs == {f"{FOLDER}/elements-h.js": ("js/elements/h.js",), f"{FOLDER}/screens-state.js": ("js/screens/state.js",)}
    assert packs.of_screen["js/screens/desk.js"] == [f"{FOLDER}/elements-h.js", f"{FOLDER}/screens-state.js"]
    assert packs.of_screen["js/screens/wall.js"] == [f"{FOLDER}/elements-h.js"]


def test_whoever_imports_a_module_gets_it_out_of_its_pack(packs):
    files = packs.files()
    assert files[f"{FOLDER}/screens-state.js"] == (
        'import { $elements$h } from "./elements-h.js";\nexport const $screens$state = (() => {\nconst { h: make } = $elements$h;\n'
        "class State {}\nconst made = make();\nreturn { State, made };\n})();\n"
    )
    assert files["js/screens/undo.js"] == (
        'import { $screens$state } from "../packs/screens-state.js";const { State } = $screens$state;\n'
        "export const undo = new State();\n"
    )
    assert files["js/elements/h.js"] == (
        'import { $elements$h } from "../packs/elements-h.js";\nexport const { h, swap } = $elements$h;\n'
    )


def test_of_our_own_modules_every_import_and_export_is_of_a_form_that_is_understood():
    for path, text in our_packs().texts.items():
        assert len(re.findall(r"^import\b", text, re.MULTILINE)) == len(IMPORTED.findall(text)), path
        if path not in our_packs().screens:
            assert len(re.findall(r"^export\b", text, re.MULTILINE)) == len(EXPORTED.findall(text)), path
            assert not re.search(r"^(await|for await)\b", text, re.MULTILINE), path


def test_no_pack_waits_for_one_that_waits_for_it():
    files, ready = our_packs().files(), set[str]()
    needs = {pack: {f"{FOLDER}/{name}" for name in re.findall(r'from "\./([^"]+)"', files[pack])} for pack in our_packs().packs}
    while more := {pack for pack, needed in needs.items() if pack not in ready and needed <= ready}:
        ready |= more
    assert ready == set(needs)
