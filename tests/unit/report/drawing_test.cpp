#include <doctest/doctest.h>

#include <leastwise/render.hpp>
#include <leastwise/report.hpp>

#include <sstream>
#include <string>

#include "report/drawing/bars.hpp"
#include "report/drawing/canvas.hpp"
#include "report/drawing/frame.hpp"
#include "report/drawing/scale.hpp"
#include "report/drawing/tap_targets.hpp"
#include "report/kit/markup.hpp"
#include "report/kit/page.hpp"
#include "sample_answers.hpp"

using namespace leastwise;

namespace {

std::size_t count_of(const std::string& text, std::string_view part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1))
    ++count;
  return count;
}

bool holds(const std::string& text, std::string_view part) { return count_of(text, part) > 0; }

}  // namespace

TEST_SUITE("drawing") {
  TEST_CASE("markup signs, quotes, control characters and broken UTF-8 become harmless") {
    CHECK(report::escaped("<a href=\"x\">&'") == "&lt;a href=&quot;x&quot;&gt;&amp;&#39;");
    CHECK(report::escaped("a\x01\nb") == "a  b");
    CHECK(report::escaped("K\xC3\xA4se \xF0\x9F\x8C\xBE") == "K\xC3\xA4se \xF0\x9F\x8C\xBE");
    const std::string replacement = "\xEF\xBF\xBD";
    CHECK(report::escaped("a\xFF") == "a" + replacement);
    CHECK(report::escaped("\xC3") == replacement);                                      // cut short
    CHECK(report::escaped("\xED\xA0\x80") == replacement + replacement + replacement);  // surrogate
    CHECK(report::escaped("\xEF\xBF\xBF") == replacement + replacement + replacement);  // U+FFFF
  }

  TEST_CASE("coordinates have two decimals at most and no minus zero") {
    CHECK(report::coordinate(12) == "12");
    CHECK(report::coordinate(12.5) == "12.5");
    CHECK(report::coordinate(-0.001) == "0");
    CHECK(report::coordinate(100) == "100");
    CHECK(report::coordinate(-3.456) == "-3.46");
  }

  TEST_CASE("words that are too long for their place end in an ellipsis") {
    CHECK(report::fitted("urea", 100) == "urea");
    const std::string cut = report::fitted(std::string(200, 'x'), 100);
    CHECK(cut.ends_with("…"));
    CHECK(report::width_of(cut) <= 100);
  }

  TEST_CASE("ticks are round, lie within the range and read without noise") {
    const report::Ticks ticks = report::ticks_between(0.13, 0.87, 5);
    REQUIRE(ticks.numbers.size() >= 3);
    CHECK(ticks.numbers.front() >= 0.13);
    CHECK(ticks.numbers.back() <= 0.87 + 1e-9);
    CHECK(ticks.text(ticks.numbers.front()) == "0.2");
    CHECK(report::ticks_between(150, 700, 5).text(200) == "200");
    CHECK(report::ticks_between(-1, 1, 4).text(-1e-17) == "0.0");
  }

  TEST_CASE("a range that is a point is given room") {
    const report::Scale point = report::widened(42, 42, 0.1);
    CHECK(point.from < 42);
    CHECK(point.to > 42);
    const report::Scale nothing = report::widened(0, 0, 0.1);
    CHECK(nothing.from < nothing.to);
  }

  TEST_CASE("no number of an axis is cut off, however long and in whatever common font") {
    const auto place = [](const std::string& line, std::string_view before) {
      const std::size_t at = line.find(before) + before.size();
      return std::stod(line.substr(at));
    };
    for (const double top : {90.0, 3.3e7, 987654321.0}) {
      report::Canvas canvas;
      const report::Frame frame(canvas, {top / 12, top, "IDR/t of urea"}, {0, top, "IDR/ha"}, 0,
                                200);
      CHECK(frame.left() < frame.right());
      std::istringstream lines(std::move(canvas).body());
      std::size_t numbers = 0;
      for (std::string line; std::getline(lines, line);) {
        if (!line.starts_with("<text") || line.find("IDR") != std::string::npos) continue;
        ++numbers;
        const std::size_t from = line.find('>') + 1;
        const double width = 0.636 * 12.5 * static_cast<double>(line.find("</") - from);
        const double x = place(line, "x=\"");
        const bool ends_there = holds(line, "class=\"end\"");
        CAPTURE(line);
        CHECK(x - (ends_there ? width : width / 2) >= 0);
        CHECK(x + (ends_there ? 0 : width / 2) <= report::picture_width);
      }
      CHECK(numbers >= 6);
    }
  }

  TEST_CASE("bars start at zero, to the left of it for what is earned") {
    const report::Picture picture = report::bar_chart(
        "Cost", "USD/t", {{"urea", 30, {}, "30.00"}, {"slag", -10, {}, "-10.00"}});
    CHECK(count_of(picture.body, "<rect") == 2);
    // 436 units for 40 USD: zero lies a quarter of the way.
    CHECK(holds(picture.body, "<rect x=\"111\" y=\"39\" width=\"327\" height=\"12\""));
    CHECK(holds(picture.body, "<rect x=\"2\" y=\"75\" width=\"109\" height=\"12\""));
    CHECK(picture.description == "USD/t. urea: 30.00; slag: -10.00.");
  }

  TEST_CASE("a line without a value has words and no bar") {
    const report::Picture picture =
        report::bar_chart("Cost", "USD/t", {{"this", {}, {}, "no blend obeys every rule"}});
    CHECK(count_of(picture.body, "<rect") == 0);
    CHECK(holds(picture.body, "no blend obeys every rule"));
  }

  TEST_CASE("a target shows its minimum, its maximum and what does not count") {
    const report::Picture picture = report::target_chart(
        "Supply", {{"B", 0.1, 0.3, {.min = 0.1, .max = 0.5}, "0.100 kg/ha, asked 0.1 to 0.5"}});
    CHECK(count_of(picture.body, "class=\"limit\"") == 2);
    CHECK(count_of(picture.body, "class=\"pale\"") == 1);
    CHECK(picture.description == "B: 0.100 kg/ha, asked 0.1 to 0.5.");
  }

  TEST_CASE("the page of a blend shows both pictures, each with title, description and table") {
    const std::string page = to_html(samples::per_hectare_blend());
    CHECK(count_of(page, "<figure") == 2);
    CHECK(count_of(page, "role=\"img\"") == 2);
    CHECK(count_of(page, "<desc>") == 2);
    CHECK(count_of(page, "<table") >= 3);
    CHECK(holds(page, "<h1>Hollow field maize</h1>"));
    CHECK(holds(page, "fitted particle respirator"));
    CHECK(holds(page, "planning aids"));
    CHECK(holds(page, "size:A4"));
    CHECK(page == to_html(samples::per_hectare_blend()));
  }

  TEST_CASE(
      "the picture of a blend has a bar for each good and a target for each demand that leaves "
      "room") {
    const std::string drawing = to_svg(samples::per_hectare_blend());
    for (const char* label : {"urea", "map", "zinc-oxide", "canola-oil (binder)"})
      CHECK(holds(drawing, std::string(">") + label + "</text>"));
    CHECK_FALSE(holds(drawing, "asked at least 51.5"));  // met exactly: the table says it
    CHECK(holds(drawing, "asked 0.6 to 0.9"));
    CHECK(holds(drawing, "0 %, asked at most 4"));
    CHECK(holds(drawing, "xmlns=\"http://www.w3.org/2000/svg\""));
  }

  TEST_CASE("without a blend the picture says so in words") {
    CHECK(holds(to_svg(samples::conflict()), "No blend can obey every rule."));
    CHECK(holds(to_svg(samples::stopped()), "No answer is proved"));
    CHECK(holds(to_html(samples::conflict()), "planning aids"));
    CHECK(holds(to_html(samples::stopped()), "planning aids"));
  }

  TEST_CASE("what a user writes stays words") {
    Blend blend = samples::per_tonne_blend();
    blend.title = "</title><script>alert(1)</script>";
    blend.portions.front().material = "\"><svg onload=alert(1)>";
    blend.notes.push_back({NoteLevel::warning, NoteCode::other, {}, "<img src=x>"});
    for (const std::string& text : {to_html(blend), to_svg(blend)}) {
      CHECK_FALSE(holds(text, "<script"));
      CHECK_FALSE(holds(text, "onload=alert(1)>"));
      CHECK_FALSE(holds(text, "<img"));
    }
  }

  TEST_CASE("items with a dash are a list, others are paragraphs, and text is as before") {
    report::Page page(report::Medium::html);
    page.title("A & B");
    page.item("  - ", "one");
    page.warning_item("  - ", "two");
    page.item("  ", "three");
    const std::string html = page.html(Paper::letter);
    CHECK(holds(html, "<ul>\n<li>one</li>\n<li class=\"warn\">two</li>\n</ul>\n<p>three</p>"));
    CHECK(holds(html, "<title>A &amp; B</title>"));
    CHECK(holds(html, "size:letter"));
    CHECK(page.text({}) == "A & B\n=====\n\n  - one\n  - two\n  three\n");
  }

  TEST_CASE("a table's cells carry their headings, for screens too narrow for columns") {
    report::Table table;
    table.add_words("material");
    table.add_numbers("kg/t");
    table.add_words("never filled");
    table.add_row({"urea", "385.0"});
    report::Page page(report::Medium::html);
    page.table(table);
    const std::string html = page.html(Paper::a4);
    CHECK(holds(
        html,
        "<td class=\"s\" data-h=\"material\">urea</td><td class=\"n\" data-h=\"kg/t\">385.0</td>"));
    CHECK_FALSE(holds(html, "never filled"));
  }
}
