#include <doctest/doctest.h>
#include <leastwise/prove.hpp>
#include <leastwise/scenario.hpp>
#include <leastwise/verify.hpp>

#include <algorithm>

#include "unit/scenario/drafts.hpp"

using namespace leastwise;
using doctest::Approx;

namespace {

ScenarioDraft with_lot(const std::string& name, std::optional<std::vector<Content>> also,
                       std::optional<std::vector<Content>> analysis = {}) {
  ScenarioDraft draft;
  MaterialDraft material;
  material.name = name;
  material.price_per_t = 400;
  material.contains_also_percent = std::move(also);
  material.analysis_percent = std::move(analysis);
  draft.materials = {material};
  draft.grade_percent = {{"N", {10, 100}}};
  return draft;
}

double lot_percent(const ScenarioDraft& draft, const std::string& name) {
  const Scenario scenario(draft);
  return content_percent(scenario.materials().front(), name);
}

void check_lot_refused(const ScenarioDraft& draft, const char* words) {
  CHECK_THROWS_WITH_AS(static_cast<void>(Scenario(draft)), doctest::Contains(words), InputError);
}

}  // namespace

TEST_SUITE("lot analysis") {
  TEST_CASE("a content is added, and everything of the catalogue stays") {
    const auto draft = with_lot("urea", std::vector<Content>{{"biuret", 0.9}});
    CHECK(lot_percent(draft, "biuret") == 0.9);
    CHECK(lot_percent(draft, "N") == 46);
    CHECK(lot_percent(draft, "N-urea") == 46);
    CHECK(Scenario(draft).materials().front().family == "urea");
    CHECK(Scenario(draft).notes().empty());
  }

  TEST_CASE("forms keep their share of a nutrient that is replaced, and a note says so") {
    const auto draft = with_lot("map", {}, std::vector<Content>{{"P2O5", 50}, {"N", 10.5}});
    CHECK(lot_percent(draft, "P2O5-water") == Approx(47 * 50 / 52.0));
    CHECK(lot_percent(draft, "P2O5-citrate") == Approx(50));
    CHECK(lot_percent(draft, "N-ammonium") == Approx(10.5));
    const Scenario scenario(draft);
    REQUIRE(scenario.notes().size() == 2);
    CHECK(scenario.notes()[0].code == NoteCode::forms_follow);
  }

  TEST_CASE("forms that the lot states are taken as they stand") {
    const auto draft = with_lot("map", {}, std::vector<Content>{{"P2O5-water", 45}, {"P2O5", 51}});
    CHECK(lot_percent(draft, "P2O5-water") == 45);
    CHECK(lot_percent(draft, "P2O5-citrate") == Approx(51));
  }

  TEST_CASE("an oxide replaces the element that the catalogue states, and the other way round") {
    CHECK(lot_percent(with_lot("map", std::vector<Content>{{"P", 22}}), "P") == 22);
    CHECK(lot_percent(with_lot("map", std::vector<Content>{{"P", 22}}), "P2O5-water") ==
          Approx(47 * 22 / (52 * 0.43642)).epsilon(1e-4));
    const auto sulfate = with_lot("ammonium-sulfate", std::vector<Content>{{"SO3", 58}});
    CHECK(lot_percent(sulfate, "SO3") == 58);
    CHECK(lot_percent(sulfate, "S") < 24);
  }

  TEST_CASE("an analysis of what the material does not have is refused, with what to write") {
    check_lot_refused(with_lot("urea", {}, std::vector<Content>{{"biuret", 0.9}}),
                      "'urea' has no 'biuret'; to add it write contains_also_percent");
    check_lot_refused(with_lot("map", {}, std::vector<Content>{{"P2O5-watr", 45}}),
                      "did you mean 'P2O5-water'?");
  }

  TEST_CASE("sums, doubles and numbers are checked as in contains_percent") {
    check_lot_refused(with_lot("urea", std::vector<Content>{{"N-urea", 60}}),
                      "must be at most its 46 percent N");
    check_lot_refused(with_lot("urea", std::vector<Content>{{"biuret", 140}}), "from 0 to 100");
    check_lot_refused(with_lot("map", std::vector<Content>{{"P", 20}, {"P2O5", 50}}),
                      "must be stated once");
    check_lot_refused(
        with_lot("map", std::vector<Content>{{"P", 20}}, std::vector<Content>{{"P2O5", 50}}),
        "must be stated once");
    check_lot_refused(with_lot("urea", std::vector<Content>{{"Ca", 70}}),
                      "at most 100 percent together");
  }

  TEST_CASE("beside contents of its own there is nothing to change") {
    auto draft = with_lot("urea", std::vector<Content>{{"biuret", 0.9}});
    draft.materials[0].form = Form::granule;
    draft.materials[0].contains_percent = {{"N", 46}, {"N-urea", 46}};
    check_lot_refused(draft, "states contains_percent itself; write it there");
  }

  TEST_CASE("organic matter that a lot adds counts as a fuel beside an oxidizer") {
    auto draft = with_lot("clay-filler", std::vector<Content>{{"organic-C", 20}});
    MaterialDraft nitrate;
    nitrate.name = "ammonium-nitrate";
    nitrate.price_per_t = 300;
    draft.materials.push_back(nitrate);
    const auto apart = [&] {
      try {
        return !Scenario(draft).exclusions().empty();
      } catch (const InputError&) {
        return true;
      }
    };
    CHECK(apart());
    draft.materials[0].contains_also_percent.reset();
    CHECK_FALSE(apart());
  }

  TEST_CASE("the exact proof counts the lot, and is checked with it") {
    auto draft =
        with_lot("map", std::vector<Content>{{"Cd", 0.002}}, std::vector<Content>{{"P2O5", 50.7}});
    MaterialDraft potash;
    potash.name = "mop";
    potash.price_per_t = 300;
    draft.materials.push_back(potash);
    draft.grade_percent = {{"P2O5", {20, 100}}, {"P2O5-water", {18, 100}}, {"Cd", {0, 0.001}}};
    const Scenario scenario(draft);
    const ProvenFormulation proven = formulate_with_proof(scenario);
    REQUIRE(proven.proof);
    CHECK(verify(*proven.proof, scenario).verdict == ProofVerdict::proved_optimal);
  }
}
