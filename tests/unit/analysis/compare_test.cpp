#include <doctest/doctest.h>
#include <leastwise/compare.hpp>
#include <leastwise/formulate.hpp>
#include <leastwise/load.hpp>
#include <leastwise/prove.hpp>
#include <leastwise/report.hpp>
#include <leastwise/verify.hpp>

#include <algorithm>
#include <sstream>
#include <stdexcept>

#include "unit/solve/scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;

namespace {

constexpr std::string_view zinc_sources = R"(leastwise: 1
title: zinc
currency: USD
materials:
  carrier: {form: granule, contains_percent: {N: 40}, price_per_t: 400}
  filler: {form: granule, contains_percent: {Ca: 30}, price_per_t: 50}
  oxide: {form: granule, contains_percent: {Zn: 50}, price_per_t: 1500}
  sulfate: {form: granule, contains_percent: {Zn: 25, S: 12}, price_per_t: 900}
  tainted: {form: granule, contains_percent: {N: 30, Zn: 0.5}, price_per_t: 420}
grade_percent:
  N: {min: 10, max: 30}
  Zn: {min: 0.5}
)";

Scenario scenario_with(const std::string& more) {
  return parse_scenario(std::string(zinc_sources) + more, "zinc.yaml");
}

const ComparedScenario& line_of(const Comparison& comparison, const std::string& name) {
  for (const auto& line : comparison.lines)
    if (line.name == name) return line;
  throw std::out_of_range(name);
}

bool uses(const ComparedScenario& line, const std::string& material) {
  const auto& portions = line.answer.blend()->portions;
  return std::any_of(portions.begin(), portions.end(),
                     [&](const Portion& p) { return p.material == material; });
}

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

std::string complaint(const std::string& more) {
  try {
    (void)with_variants(scenario_with(more));
  } catch (const InputError& error) {
    return error.to_text();
  }
  return {};
}

}  // namespace

TEST_SUITE("comparison of variants") {
  TEST_CASE("only this source of zinc is one line") {
    const auto scenario =
        scenario_with("variants:\n  only-sulfate: {only_source_of: {Zn: sulfate}}\n");
    const auto comparison = compare(with_variants(scenario));
    REQUIRE(comparison.lines.size() == 2);
    CHECK(comparison.lines[0].name == "as written");
    CHECK(uses(comparison.lines[0], "oxide"));
    const auto& only = line_of(comparison, "only-sulfate");
    CHECK(uses(only, "sulfate"));
    CHECK_FALSE(uses(only, "oxide"));
    REQUIRE(only.difference_per_t);
    // 10 kg oxide cost 15 for 5 kg of zinc; 20 kg sulfate cost 18 and spare 10 kg more of filler.
    CHECK(*only.difference_per_t == doctest::Approx(18 - 15 - 10 * 0.05).epsilon(1e-9));
  }

  TEST_CASE("each kind of change does what it says and leaves the scenario alone") {
    const auto scenario = scenario_with(R"(variants:
  dear: {prices: {oxide: 4000}}
  more: {grade_percent: {Zn: {min: 1}}}
  other: {grade_percent: {S: {min: 1}}}
  few: {blend: {bins: 2}}
  none: {without: [oxide, sulfate]}
  loose: {drop: [grade Zn min]}
  listed: {use: [carrier, filler, sulfate]}
  ratio: {ratios: [{of: S, to: Zn, min: 0.4}]}
)");
    const auto comparison = compare(with_variants(scenario));
    REQUIRE(comparison.lines.size() == 9);
    const double written = comparison.lines[0].answer.blend()->cost_per_t;
    CHECK(uses(line_of(comparison, "dear"), "sulfate"));
    CHECK(line_of(comparison, "more").answer.blend()->cost_per_t > written);
    CHECK(uses(line_of(comparison, "other"), "sulfate"));
    CHECK(line_of(comparison, "few").answer.blend()->portions.size() <= 2);
    CHECK(line_of(comparison, "none").answer.blend() != nullptr);  // tainted brings zinc along
    CHECK(*line_of(comparison, "loose").difference_per_t < 0);
    CHECK_FALSE(uses(line_of(comparison, "listed"), "oxide"));
    CHECK(uses(line_of(comparison, "ratio"), "sulfate"));
    CHECK(scenario.materials()[2].price_per_t == 1500);
  }

  TEST_CASE("an impossible variant is a line, not the end") {
    const auto comparison = compare(with_variants(
        scenario_with("variants:\n  bare: {without: [oxide, sulfate, tainted]}\n  next: {}\n")));
    REQUIRE(comparison.lines.size() == 3);
    const auto& bare = line_of(comparison, "bare");
    CHECK(bare.answer.status() == Status::infeasible);
    CHECK_FALSE(bare.difference_per_t);
    CHECK(line_of(comparison, "next").answer.blend());
    const auto text = to_text(comparison);
    CHECK(text.find("infeasible") != std::string::npos);
    CHECK(text.find("grade Zn min") != std::string::npos);
  }

  TEST_CASE("what is wrong in variants is said at its place, all at once") {
    const auto text = complaint(R"(variants:
  a: {without: [oxid]}
  b: {drop: [grade Zm min]}
  c: {prices: {sulfat: 800}}
  d: {only_source_of: {Zn: carrier}}
  e: {grade_percent: {N: {min: 30, max: 20}}}
)");
    INFO(text);
    CHECK(text.find("zinc.yaml:14:17: error: a variant must name materials of its scenario, found "
                    "'oxid'; did you mean 'oxide'? [unknown-material]") != std::string::npos);
    CHECK(text.find("zinc.yaml:15:14: error: expected the name of a rule") != std::string::npos);
    CHECK(text.find("did you mean 'grade Zn min'?") != std::string::npos);
    CHECK(text.find("did you mean 'sulfate'?") != std::string::npos);
    CHECK(text.find("a source of 'Zn' must hold at least 1 %") != std::string::npos);
    CHECK(text.find("zinc.yaml:18:") != std::string::npos);
    CHECK(text.find("5 errors") != std::string::npos);
  }

  TEST_CASE("leaving a material out drops what is said of its minimum if used") {
    auto draft = scenario_with("").draft();
    draft.materials[2].min_if_used_percent = 1;
    VariantDraft variant;
    variant.name = "no oxide";
    variant.without = {"oxide"};
    const auto answer = formulate(varied(Scenario(draft), variant));
    REQUIRE(answer.blend());
    CHECK(answer.blend()->portions.size() > 1);
    // Its rule may be dropped as well: there is one.
    variant.drop = {"min if used oxide"};
    CHECK(formulate(varied(Scenario(draft), variant)).blend());
  }

  TEST_CASE("a share that is asked for of a material left out is a conflict, not an error") {
    auto draft = scenario_with("variants:\n  none: {without: [oxide]}\n  free: {}\n").draft();
    draft.materials[2].share_percent = Limits{0.5, 3};
    draft.materials[2].min_if_used_percent = 0.4;
    const auto comparison = compare(with_variants(Scenario(draft)));
    REQUIRE(comparison.lines.size() == 3);
    const auto* conflict = line_of(comparison, "none").answer.conflict();
    REQUIRE(conflict);
    REQUIRE(conflict->rules.size() == 2);
    CHECK(conflict->rules[0].rule == "share oxide min");
    CHECK(conflict->rules[1].rule == "without oxide");
    CHECK(line_of(comparison, "free").answer.blend());
    CHECK(has(to_text(comparison, {.width = 1000}), "share oxide min, without oxide"));
    CHECK(has(to_csv(comparison), ",share oxide min; without oxide,,\n"));
    const auto sources = compare_sources(Scenario(draft), "Zn");
    CHECK(line_of(sources, "only sulfate").answer.conflict());
    CHECK(line_of(sources, "only oxide").answer.blend());
  }

  TEST_CASE("a share of exactly so much of a material left out is a conflict as well") {
    auto draft = scenario_with("variants:\n  none: {without: [oxide]}\n").draft();
    draft.materials[2].share_percent = Limits{1, 1};
    const auto scenarios = with_variants(Scenario(draft));
    CHECK(formulate(scenarios[0].scenario).blend());
    const auto answer = formulate(scenarios[1].scenario);
    REQUIRE(answer.conflict());
    CHECK(has(to_text(answer), "oxide left out"));
    CHECK(has(to_text(answer), "Let in with 1 %"));
    CHECK_FALSE(has(to_text(answer), "share oxide max"));
  }

  TEST_CASE("a material left out is said to be, at the place that leaves it out") {
    const auto scenarios =
        with_variants(scenario_with("variants:\n  bare: {without: [oxide, sulfate, tainted]}\n"));
    const auto answer = formulate(scenarios[1].scenario);
    REQUIRE(answer.conflict());
    const auto& rules = answer.conflict()->rules;
    const auto found = std::find_if(rules.begin(), rules.end(), [](const ConflictingRule& rule) {
      return rule.rule == "without sulfate";
    });
    REQUIRE(found != rules.end());
    CHECK(found->place.line == 14);
  }

  TEST_CASE("what is proved without a material is verified by rules of the same names") {
    auto draft = scenario_with("").draft();
    VariantDraft variant;
    variant.name = "no oxide";
    variant.without = {"oxide"};
    for (const double least : {0.0, 0.5}) {
      draft.materials[2].share_percent = Limits{least, 5};
      const auto scenario = varied(Scenario(draft), variant);
      const auto proven = formulate_with_proof(scenario);
      INFO(least, " % at least; ", proven.why_no_proof);
      CHECK((proven.answer.blend() != nullptr) == (least == 0));
      REQUIRE(proven.proof);
      const auto verified = verify(*proven.proof, scenario);
      INFO(verified.detail);
      CHECK(verified.verdict ==
            (least == 0 ? ProofVerdict::proved_optimal : ProofVerdict::proved_infeasible));
    }
  }

  TEST_CASE("a rule that cannot be met by itself is not called a conflict") {
    const auto comparison =
        compare(with_variants(scenario_with("variants:\n  a: {grade_percent: {N: {min: 41}}}\n")));
    const auto text = to_text(comparison);
    CHECK(has(text, "no blend obeys every rule: grade N min alone cannot be met"));
    CHECK_FALSE(has(text, "these conflict"));
  }

  TEST_CASE("each line has its currency, and there is no difference between two") {
    auto other = scenario_with("").draft();
    other.currency = "EUR";
    const auto first = scenario_with("");
    const std::vector<NamedScenario> scenarios{
        {"a", first}, {"b", Scenario(other)}, {"c", first.with_price("oxide", 2000)}};
    const auto comparison = compare(scenarios);
    CHECK(comparison.lines[0].currency == "USD");
    CHECK(comparison.lines[1].currency == "EUR");
    CHECK_FALSE(comparison.lines[1].difference_per_t);
    CHECK(comparison.lines[2].difference_per_t);
    REQUIRE(comparison.notes.size() == 1);
    CHECK(has(comparison.notes[0].text, "different currencies (USD, EUR)"));
    const auto text = to_text(comparison);
    CHECK(has(text, "different currencies"));
    CHECK_FALSE(has(text, "USD/t"));
    CHECK(has(to_json(comparison), "\"currency\": \"EUR\""));
    CHECK(has(to_csv(comparison), ",EUR,,"));
    CHECK(has(to_csv(comparison), ",USD,,"));
    CHECK(has(to_html(comparison), "EUR/t"));
    CHECK(has(to_svg(comparison), "different currencies"));
  }

  TEST_CASE("lines of one name are told apart, and a variant may be called as written") {
    const auto scenario = scenario_with("variants:\n  as written: {}\n");
    const auto list = with_variants(scenario);
    CHECK(list[1].name == "as written (variant)");
    const std::vector<NamedScenario> same{
        {"a", scenario}, {"a", scenario}, {"a (2)", scenario}, {"a", scenario}};
    const auto comparison = compare(same);
    CHECK(comparison.lines[0].name == "a");
    CHECK(comparison.lines[1].name == "a (2)");
    CHECK(comparison.lines[2].name == "a (2) (2)");
    CHECK(comparison.lines[3].name == "a (3)");
  }

  TEST_CASE("without a blend in the first line the page says why there are no differences") {
    auto draft = scenario_with("variants:\n  loose: {grade_percent: {N: {min: 10}}}\n").draft();
    draft.grade_percent[0].limits = at_least(41);
    const auto comparison = compare(with_variants(Scenario(draft)));
    CHECK(line_of(comparison, "loose").answer.blend());
    REQUIRE(comparison.notes.size() == 1);
    CHECK(has(to_text(comparison), "There are no differences: the first line, 'as written', has"));
    CHECK(has(to_json(comparison), "there are no differences"));
  }

  TEST_CASE("each caution names its lines") {
    const auto scenario = parse_scenario(R"(leastwise: 1
materials:
  urea: {price_per_t: 450}
  ammonium-sulfate: {price_per_t: 900}
  mop: {price_per_t: 400}
  boron: {form: powder, contains_percent: {B: 17}, price_per_t: 1000}
grade_percent:
  N: {min: 25}
  K2O: {min: 10}
  B: {min: 0.1}
variants:
  with sulfur: {grade_percent: {S: {min: 3}}}
  dear sulfur: {grade_percent: {S: {min: 4}}}
  hopeless: {grade_percent: {N: {min: 50}}}
)",
                                         "cautions.yaml");
    const auto comparison = compare(with_variants(scenario));
    // On one line, so that no break falls into what is looked for.
    const auto text = to_text(comparison, {.width = 1000});
    INFO(text);
    CHECK(has(text, "spread soon. Lines: with sulfur; dear sulfur."));
    CHECK(has(text, "do not store. Lines: all with a blend."));
    CHECK(has(text, "  with sulfur  "));  // the user's name as it is
  }

  TEST_CASE("long names of variants keep within the page") {
    const std::string longest(130, 'n');
    const auto comparison = compare(with_variants(scenario_with(
        "variants:\n  " + longest +
        ": {}\n  a variant with a name of very many words that goes on "
        "and on and on and on and on and on: {without: [oxide, sulfate, tainted]}\n")));
    std::istringstream page(to_text(comparison));
    for (std::string line; std::getline(page, line);) {
      INFO(line);
      CHECK(line.size() <= 80);
    }
  }

  TEST_CASE("an unknown key of a variant is rejected like any other") {
    CHECK_THROWS_AS((void)scenario_with("variants:\n  a: {witout: [oxide]}\n"), InputError);
    CHECK_THROWS_AS((void)scenario_with("variants:\n  a: {without: oxide}\n"), InputError);
    CHECK_THROWS_AS((void)scenario_with("variants:\n  a: {}\n  a: {}\n"), InputError);
    CHECK_THROWS_AS((void)scenario_with("without: [oxide]\n"), InputError);
  }
}

TEST_SUITE("comparison of sources") {
  TEST_CASE("each source of a nutrient is forced in turn and ranked, the free choice first") {
    const auto comparison = compare_sources(scenario_with(""), "Zn");
    REQUIRE(comparison.lines.size() == 3);  // tainted holds 0.5 %: no source
    CHECK(comparison.nutrient == "Zn");
    CHECK(comparison.lines[0].name == "free choice");
    CHECK(*comparison.lines[1].difference_per_t <= *comparison.lines[2].difference_per_t);
    CHECK(comparison.lines[0].answer.blend()->cost_per_t <=
          comparison.lines[1].answer.blend()->cost_per_t + 1e-9);
  }

  TEST_CASE("a source that cannot do it alone stands last") {
    auto draft = scenario_with("").draft();
    draft.materials[3].share_percent = at_most(0.1);
    const auto comparison = compare_sources(Scenario(draft), "Zn");
    CHECK(comparison.lines.back().name == "only sulfate");
    CHECK(comparison.lines.back().answer.blend());  // tainted makes up for it
    draft.grade_percent[1].limits = at_least(2);
    const auto harder = compare_sources(Scenario(draft), "Zn");
    CHECK(harder.lines.back().answer.status() == Status::infeasible);
  }

  TEST_CASE("a nutrient without a source is no question") {
    CHECK_THROWS_AS((void)compare_sources(scenario_with(""), "B"), std::invalid_argument);
  }
}

TEST_SUITE("published figures of a blend") {
  TEST_CASE("salt index and acidity are per 100 kg of product, and say what they do not cover") {
    // Urea 74.4 and muriate of potash 116.2 (Mortvedt 2001), half and half. Acidity: urea -84
    // per 100 kg (extension table; 1.8 per kg N x 46 % by a Midwest extension text), muriate 0.
    const auto scenario = parse_scenario(R"(leastwise: 1
materials:
  urea: {price_per_t: 450}
  mop: {price_per_t: 400}
grade_percent:
  N: {exactly: 23}
  K2O: {exactly: 30}
)",
                                         "half.yaml");
    const auto comparison = compare(with_variants(scenario));
    const auto& line = comparison.lines.front();
    REQUIRE(line.salt_index.value);
    CHECK(*line.salt_index.value == doctest::Approx((74.4 + 116.2) / 2));
    CHECK(line.salt_index.known_percent == doctest::Approx(100));
    REQUIRE(line.acidity.value);
    CHECK(*line.acidity.value == doctest::Approx(-84.0 / 2));
    CHECK(line.acidity.known_percent == doctest::Approx(100));
    CHECK(line.acidity.unknown.empty());
  }

  TEST_CASE(
      "a filler counts 0 and a material without a figure is named, not left out of the mass") {
    // A quarter ammonium sulfate at -110 per 100 kg (extension table of acidity), a quarter clay at
    // 0, half of a material of the user's own: -27.5 per 100 kg of product.
    const auto scenario = parse_scenario(R"(leastwise: 1
materials:
  ammonium-sulfate: {price_per_t: 300, share_percent: {min: 25, max: 25}}
  clay-filler: {price_per_t: 40, share_percent: {min: 25, max: 25}}
  own: {form: granule, family: potassium-chloride, contains_percent: {K2O: 40}, price_per_t: 200}
grade_percent:
  K2O: {min: 1}
)",
                                         "quarter.yaml");
    const auto comparison = compare(with_variants(scenario));
    const auto& line = comparison.lines.front();
    REQUIRE(line.acidity.value);
    CHECK(*line.acidity.value == doctest::Approx(-27.5));
    CHECK(line.acidity.known_percent == doctest::Approx(50));
    CHECK(line.acidity.unknown == std::vector<std::string>{"own"});
    REQUIRE(line.salt_index.value);
    CHECK(*line.salt_index.value == doctest::Approx(88.3 / 4));
  }
}
