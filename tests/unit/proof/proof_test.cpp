#include <doctest/doctest.h>
#include <leastwise/prove.hpp>
#include <leastwise/verify.hpp>

#include <algorithm>

using namespace leastwise;

namespace {

MaterialDraft good(const std::string& name, double n, double price) {
  MaterialDraft draft;
  draft.name = name;
  draft.form = Form::granule;
  draft.contains_percent = {{"p", n}};
  draft.price_per_t = price;
  return draft;
}

ScenarioDraft one_good() {
  ScenarioDraft draft;
  draft.title = "one good";
  draft.currency = "USD";
  draft.materials = {good("a", 46, 460)};
  draft.rates_kg_per_ha = {{"p", {.min = 46}}};
  return draft;
}

ProofVerdict verdict(const ScenarioDraft& draft, const Proof& proof) {
  return verify(proof, Scenario(draft)).verdict;
}

}  // namespace

TEST_SUITE("proof") {
  TEST_CASE("one good and one minimum are proved by one multiplier, by hand") {
    // 46 kg/ha of p from a good with 46 %: 100 kg at 460 per t cost 46; p costs 1 per kg.
    const auto proven = formulate_with_proof(Scenario(one_good()));
    REQUIRE(proven.proof.has_value());
    const Proof& proof = *proven.proof;
    CHECK(proof.claim == "optimal");
    CHECK(proof.cost == "46");
    REQUIRE(proof.portions.size() == 1);
    CHECK(proof.portions[0].kg == "100");
    REQUIRE(proof.cases.size() == 1);
    REQUIRE(proof.cases[0].multipliers.size() == 1);
    CHECK(proof.cases[0].multipliers[0].rule == "rate p min");
    CHECK(proof.cases[0].multipliers[0].value == "1");
    CHECK(proof.cases[0].bound == "46");
    CHECK(verdict(one_good(), proof) == ProofVerdict::proved_optimal);
  }

  TEST_CASE("decimals count as written: a third of a rate is a third to the last digit") {
    auto draft = one_good();
    draft.materials = {good("a", 0.3, 0.1)};
    draft.rates_kg_per_ha = {{"p", {.min = 0.1}}};
    const auto proven = formulate_with_proof(Scenario(draft));
    REQUIRE(proven.proof.has_value());
    CHECK(proven.proof->portions[0].kg == "100/3");
    CHECK(proven.proof->cost == "1/300");
  }

  TEST_CASE("rules that agree in exact decimals but not in doubles are no contradiction") {
    // 0.1 + 0.2 of p is asked for exactly and 0.3 is there: doubles would see a difference.
    auto draft = one_good();
    draft.materials = {good("a", 0.1, 1), good("b", 0.2, 1)};
    draft.total_kg_per_ha = Limits{.min = 200, .max = 200};
    draft.materials[0].share_percent = Limits{.min = 50, .max = 50};
    draft.rates_kg_per_ha = {{"p", {.min = 0.3, .max = 0.3}}};
    const auto proven = formulate_with_proof(Scenario(draft));
    REQUIRE(proven.proof.has_value());
    CHECK(proven.answer.status() == Status::optimal);
    CHECK(proven.proof->claim == "optimal");
    CHECK(verdict(draft, *proven.proof) == ProofVerdict::proved_optimal);
  }

  TEST_CASE("what cannot be blended is proved by a contradiction") {
    auto draft = one_good();
    draft.total_kg_per_ha = Limits{.max = 99};
    const auto proven = formulate_with_proof(Scenario(draft));
    CHECK(proven.answer.status() == Status::infeasible);
    REQUIRE(proven.proof.has_value());
    CHECK(proven.proof->claim == "infeasible");
    CHECK(proven.proof->cases[0].settled_by == "contradiction");
    CHECK(verdict(draft, *proven.proof) == ProofVerdict::proved_infeasible);
  }

  TEST_CASE("a contradiction of one rule alone is that rule, once") {
    auto draft = one_good();
    draft.materials.push_back(good("b", 1, 10));
    draft.materials[1].contains_percent = {{"q", 50}};
    draft.rates_kg_per_ha.push_back({"q", {.min = 0.7}});
    draft.incompatible = {{"a", "b"}};  // without one there is no p, without the other no q
    const auto proven = formulate_with_proof(Scenario(draft));
    REQUIRE(proven.proof.has_value());
    CHECK(verdict(draft, *proven.proof) == ProofVerdict::proved_infeasible);
    REQUIRE(proven.proof->cases.size() == 2);
    for (const auto& one : proven.proof->cases) {
      REQUIRE(one.multipliers.size() == 1);
      CHECK(one.multipliers[0].value == "1");
      CHECK(one.bound == (one.multipliers[0].rule == "rate p min" ? "46" : "7/10"));
    }
  }

  TEST_CASE("a limit beyond reach by less than a double can tell is told by the proof") {
    auto draft = one_good();
    draft.total_kg_per_ha = Limits{.max = 99.9999999999999};
    const auto proven = formulate_with_proof(Scenario(draft));
    REQUIRE(proven.proof.has_value());
    CHECK(proven.proof->claim == "infeasible");
    CHECK(proven.answer.status() != Status::optimal);
  }

  TEST_CASE("families kept apart are proved case by case") {
    auto draft = one_good();
    draft.materials = {good("a", 10, 100), good("b", 10, 100), good("c", 1, 500)};
    draft.materials[0].contains_percent->push_back({"q", 1});
    draft.materials[1].contains_percent->push_back({"r", 1});
    draft.materials[2].contains_percent = {{"p", 1}, {"q", 1}, {"r", 1}};
    draft.rates_kg_per_ha = {{"p", {.min = 10}}, {"q", {.min = 0.4}}, {"r", {.min = 0.4}}};
    draft.incompatible = {{"a", "b"}};
    const auto proven = formulate_with_proof(Scenario(draft));
    REQUIRE(proven.proof.has_value());
    CHECK(proven.proof->cases.size() == 2);
    CHECK(verdict(draft, *proven.proof) == ProofVerdict::proved_optimal);
  }

  TEST_CASE("a minimum if used that equals the maximum of the share leaves room for one amount") {
    // In doubles 0.57 percent of a tonne is once 5.7 and once 5.699999999999999 kg.
    for (const double percent : {0.57, 1.13, 2.3, 4.35, 8.2, 33.1}) {
      ScenarioDraft draft;
      draft.title = "a tonne";
      draft.materials = {good("a", 50, 10), good("b", 1, 100)};
      draft.materials[0].share_percent = Limits{.max = percent};
      draft.materials[0].min_if_used_percent = percent;
      draft.grade_percent = {{"p", {.min = 1}}};
      const auto proven = formulate_with_proof(Scenario(draft));
      CAPTURE(percent);
      REQUIRE(proven.proof.has_value());
      CHECK(proven.proof->portions.size() == 2);
      CHECK(proven.answer.status() == Status::optimal);
      CHECK(verdict(draft, *proven.proof) == ProofVerdict::proved_optimal);
    }
  }

  TEST_CASE("two ratios of the same names are told apart") {
    auto draft = one_good();
    draft.materials = {good("a", 46, 460), good("b", 20, 100)};
    draft.materials[1].contains_percent->push_back({"q", 10});
    draft.ratios = {{"q", "p", {.min = 0.1}}, {"q", "p", {.min = 0.2}}};
    const auto proven = formulate_with_proof(Scenario(draft));
    REQUIRE(proven.proof.has_value());
    const auto text = to_json(*proven.proof);
    CHECK(verify(parse_proof(text), Scenario(draft)).verdict == ProofVerdict::proved_optimal);
  }

  TEST_CASE("a proof survives the way through JSON unchanged") {
    const auto proven = formulate_with_proof(Scenario(one_good()));
    REQUIRE(proven.proof.has_value());
    const auto text = to_json(*proven.proof);
    CHECK(to_json(parse_proof(text)) == text);
    CHECK(text.find("\"leastwise-proof\": 1") != std::string::npos);
  }

  TEST_CASE("without time there is no proof, and it says why") {
    SolveOptions options;
    std::stop_source source;
    source.request_stop();
    options.stop = source.get_token();
    const auto proven = formulate_with_proof(Scenario(one_good()), options);
    CHECK_FALSE(proven.proof.has_value());
    CHECK_FALSE(proven.why_no_proof.empty());
  }
}
