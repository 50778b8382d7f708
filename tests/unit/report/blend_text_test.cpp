#include <doctest/doctest.h>
#include <leastwise/report.hpp>

#include <sstream>
#include <vector>

#include "report/kit/layout.hpp"
#include "sample_answers.hpp"

using namespace leastwise;

namespace {

/// The page with its line breaks and indents as single spaces, to look for sentences in it.
std::string flowing(const std::string& page) {
  std::istringstream words(page);
  std::string text;
  for (std::string word; words >> word;) text += (text.empty() ? "" : " ") + word;
  return text;
}

bool says(const Formulation& answer, std::string_view sentence) {
  return flowing(to_text(answer)).find(sentence) != std::string::npos;
}

std::size_t widest_line(const std::string& page) {
  std::istringstream lines(page);
  std::size_t widest = 0;
  for (std::string line; std::getline(lines, line);) {
    widest = std::max(widest, report::columns_of(line));
  }
  return widest;
}

std::string without_colour(const std::string& page) {
  std::string plain;
  bool escape = false;
  for (const char byte : page) {
    if (byte == '\x1b') escape = true;
    if (!escape) plain += byte;
    if (escape && byte == 'm') escape = false;
  }
  return plain;
}

Blend blend_with_long_names() {
  Blend blend = samples::per_hectare_blend();
  const std::string long_name =
      "extraordinarily-long-name-of-a-material-that-no-supplier-would-print-on-a-bag-of-fertilizer-"
      "at-all";
  blend.title = "Zuckerrübe nördlich des Großen Grabens, " + long_name + ", zweite Düngung";
  blend.portions[0].material = long_name;
  blend.portions[1].material =
      "Kalkammonsalpeter für die frühe Gabe auf dem schweren Boden im Süden";
  blend.binder.material = long_name;
  blend.supply[0].nutrient = long_name;
  blend.binding[0].rule = "rate " + long_name + " min";
  blend.binding[0].place.source = long_name;
  blend.unused[0].material = long_name;
  blend.exclusions[0].family_a = long_name;
  blend.notes.push_back({NoteLevel::warning, NoteCode::other, {}, long_name});
  return blend;
}

}  // namespace

TEST_SUITE_BEGIN("text");

TEST_CASE("a blend's page opens with its title and the bottom line") {
  const std::string page = to_text(samples::per_hectare_blend());
  CHECK(
      page.starts_with("Hollow field maize\n==================\n\n"
                       "The cheapest blend costs 80.90 USD/ha (535.41 USD/t) at 151.1 kg/ha.\n"
                       "No cheaper blend obeys every rule."));
  CHECK(page.back() == '\n');
}

TEST_CASE("a blend's page says what to weigh out, what it costs and what it holds") {
  const std::string page = to_text(samples::per_hectare_blend());
  CHECK(page.find("  urea                        100.0     661.8    45.00   55.6 %\n") !=
        std::string::npos);
  CHECK(page.find("  zinc-oxide  powder coating    0.800     5.29    2.48    3.1 %\n") !=
        std::string::npos);
  CHECK(page.find("  total                       151.1    1000.0    80.90  100.0 %\n") !=
        std::string::npos);
  CHECK(page.find("  Zn  0.6 to 0.9        0.643") != std::string::npos);
}

TEST_CASE("a blend's page says what sets the price and where in the file that stands") {
  const Formulation answer = samples::per_hectare_blend();
  CHECK(says(answer, "rate N min 12 51.5 kg/ha +0.978 -0.978 45 63"));
  CHECK(says(answer, "sop 620.00 545.20"));
  CHECK(says(answer, "urea and ammonium-nitrate: 1.89 USD/ha (12.50 USD/t)."));
  CHECK(says(answer, "caution: The contents of map are typical values."));
}

TEST_CASE("what is left out is listed nearest first, and a long list is cut short") {
  Blend blend = samples::per_hectare_blend();
  blend.unused.clear();
  for (int i = 1; i <= 25; ++i) {
    blend.unused.push_back({"m" + std::to_string(i), 100, 50.0 + i, "price"});
  }
  blend.unused.push_back({"a", 100, Known<double>::none(), "form"});
  blend.unused.push_back({"b", 100, Known<double>::none(), "exclusion"});
  blend.unused.push_back({"c", 100, Known<double>::none(), "form"});
  CHECK(says(blend, "enters below m25 100.00 75.00 m24 100.00 74.00"));
  CHECK(says(blend, "m6 100.00 56.00 and 5 more that are farther away."));
  CHECK(says(blend, "Their form cannot enter a granular blend: a, c."));
  CHECK(says(blend, "Kept apart from a material in the blend: b."));
}

TEST_CASE("what the crop cannot reach is told apart from what is there") {
  CHECK(says(samples::per_hectare_blend(), "\"Reached\" is what the crop is taken to reach"));
  CHECK_FALSE(says(samples::per_tonne_blend(), "Reached"));
}

TEST_CASE("a page per tonne has no column and no sentence per hectare") {
  const std::string page = to_text(samples::per_tonne_blend());
  CHECK(page.find("/ha") == std::string::npos);
  CHECK(page.find("The cheapest blend costs 520.00 USD/t.\n") != std::string::npos);
}

TEST_CASE("a conflict's page names the rules, how far each must give way, and the nearest blend") {
  const Formulation answer = samples::conflict();
  CHECK(says(answer, "No blend obeys every rule of this scenario."));
  CHECK(says(answer,
             "rate N min (beet.yaml:9): at least 120 kg/ha of N. If only this rule is relaxed, it "
             "must change "
             "by 28.001 kg/ha, to 91.999 kg/ha."));
  CHECK(says(answer, "drop any one and the rest agree"));
  CHECK(says(answer, "total max (beet.yaml:14): from 200 kg/ha to 260.87 kg/ha"));
  CHECK(says(answer, "117.40 USD/ha"));
}

TEST_CASE("a change shown on the page is never short of the one that is needed") {
  Conflict conflict = samples::conflict();
  const auto change = [](RuleKind kind, const char* subject, RuleSide side, double from,
                         double to) {
    const RuleId id{kind, subject, {}, side};
    return Change{to_string(id), id, from, to, limit_unit(kind), {}};
  };
  conflict.nearest = {change(RuleKind::total, "", RuleSide::max, 200, 260.861111),
                      change(RuleKind::rate, "N", RuleSide::min, 120, 91.999999),
                      change(RuleKind::rate, "K2O", RuleSide::exactly, 30, 28.123456)};
  CHECK(says(conflict, "total max: from 200 kg/ha to 260.87 kg/ha"));
  CHECK(says(conflict, "rate N min: from 120 kg/ha to 91.999 kg/ha"));
  CHECK(says(conflict, "rate K2O exactly: from 30 kg/ha to 28.1235 kg/ha"));
}

TEST_CASE("a stopped search never reads like a proof") {
  const Formulation answer = samples::stopped();
  CHECK(says(answer, "No answer is proved: 0.5 s were allowed; 812 linear programs were solved."));
  CHECK(says(answer, "Best so far, not proved to be the cheapest"));
  CHECK(says(answer, "at most 2.25 could still be saved"));
  CHECK_FALSE(says(answer, "The cheapest blend"));
  Stopped nothing = samples::stopped();
  nothing.cause = StopCause::numerical;
  nothing.best_cost.reset();
  nothing.lower_bound.reset();
  nothing.best_portions.clear();
  nothing.detail.clear();
  CHECK(says(nothing, "No answer is proved: the numbers could not be trusted."));
  CHECK(says(nothing, "There is no blend to show."));
}

TEST_CASE("no line is wider than asked, whatever the names") {
  CHECK(widest_line(to_text(blend_with_long_names())) <= 80);
  CHECK(widest_line(to_text(samples::per_hectare_blend(), {.width = 64})) <= 64);
  CHECK(widest_line(to_text(samples::conflict())) <= 80);
  CHECK(widest_line(to_text(samples::stopped())) <= 80);
}

TEST_CASE("colour changes nothing but the colour") {
  for (const Formulation& answer :
       {Formulation(samples::per_hectare_blend()), Formulation(samples::conflict()),
        Formulation(samples::stopped())}) {
    const std::string plain = to_text(answer);
    const std::string coloured = to_text(answer, {.colour = true});
    CHECK(plain.find('\x1b') == std::string::npos);
    CHECK(coloured != plain);
    CHECK(without_colour(coloured) == plain);
  }
}

TEST_CASE("a page of materials keeps within its width") {
  Material urea;
  urea.name = "urea";
  urea.family = "urea";
  urea.contains_percent = {{"N", 46}, {"N-urea", 46}};
  urea.sgn = 300;
  urea.bulk_density_kg_per_m3 = 760;
  urea.source =
      "a publication with a long title that will not fit on one line whatever one tries to do";
  const std::string page = to_text(std::vector{urea});
  CHECK(widest_line(page) <= 80);
  CHECK(page.find("urea (granule)\n  N 46, N-urea 46 %\n  SGN 300; 760 kg/m3; source: a publ") !=
        std::string::npos);
}

TEST_SUITE_END();
