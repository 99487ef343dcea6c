"""A theme that is read quickly gives what it gives otherwise: the same files, and each template as it is now."""

from jinja2 import FileSystemLoader
from mkdocs.theme import Theme

from generator.edge.site.quick_theme import quicken


def environment(folder):
    theme = Theme(name=None, custom_dir=str(folder))
    quicken(theme)
    return theme.get_env()


def test_a_template_that_has_changed_is_compiled_anew(tmp_path):
    for text in ("first", "second", "first"):
        (tmp_path / "page.html").write_text(f"{text} {{{{ 1 + 1 }}}}", "utf-8")
        assert environment(tmp_path).get_template("page.html").render() == f"{text} 2"


def test_templates_of_one_name_in_two_themes_are_not_taken_for_each_other(tmp_path):
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "page.html").write_text(name, "utf-8")
    assert [environment(tmp_path / name).get_template("page.html").render() for name in ("one", "other", "one")] == ["one", "other", "one"]


def test_the_second_time_nothing_is_compiled(tmp_path, monkeypatch):
    (tmp_path / "page.html").write_text("a page", "utf-8")
    environment(tmp_path).get_template("page.html")
    again = environment(tmp_path)
    monkeypatch.setattr(again, "compile", None)
    assert again.get_template("page.html").render() == "a page"


def test_all_is_listed_but_what_is_hidden_and_can_be_asked_for_by_name(tmp_path):
    seen = {"page.html", "assets/a.css", "assets/deep/b.js", "partials/c.html"}
    hidden = {".icons/d.svg", "assets/.cache/e.css", ".icons/deep/f.svg"}
    for name in seen | hidden:
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(name, "utf-8")
    env = environment(tmp_path)
    every = FileSystemLoader(env.loader.searchpath).list_templates()
    assert env.loader.list_templates() == [name for name in every if name not in hidden]
    assert seen | hidden <= set(every)
    assert {env.get_template(name).render() for name in hidden} == hidden
