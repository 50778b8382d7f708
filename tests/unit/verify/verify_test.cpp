#include <leastwise/prove.hpp>
#include <leastwise/verify.hpp>

#include <doctest/doctest.h>
#include <leastwise/render.hpp>

#include <chrono>
#include <functional>
#include <stop_token>
#include <vector>

using namespace leastwise;

namespace {

// Two goods and three rules, every number of the proof worked out by hand. Per tonne:
// a holds 40 % p at 400, b 10 % p at 100; the product needs 25 % p. Half and half cost 250.
// Rules: 0.4 a + 0.1 b >= 250 (x10 the percent), a + b = 1000. Multipliers y, t:
// 0.4 y + t = 0.4 and 0.1 y + t = 0.1 give y = 1, t = 0; bound 250.
ScenarioDraft two_goods() {
  ScenarioDraft draft;
  draft.title = "half and half";
  draft.currency = "USD";
  for (const auto& [name, p, price] :
       {std::tuple{"a", 40.0, 400.0}, std::tuple{"b", 10.0, 100.0}}) {
    MaterialDraft good;
    good.name = name;
    good.form = Form::granule;
    good.contains_percent = {{"p", p}};
    good.price_per_t = price;
    draft.materials.push_back(good);
  }
  draft.grade_percent = {{"p", {.min = 25}}};
  return draft;
}

Proof by_hand() {
  Proof proof = *formulate_with_proof(Scenario(two_goods())).proof;  // for the digest
  proof.claim = "optimal";
  proof.cost = "250";
  proof.portions = {{"a", "500"}, {"b", "500"}};
  proof.cases = {{{}, {{"grade p min", "1"}}, "cost", "250"}};
  return proof;
}

Verification check(const Proof& proof) { return verify(proof, Scenario(two_goods())); }

/// The proof with one change must be refused, and the refusal says why.
void refused(const std::function<void(Proof&)>& change, const std::string& because) {
  Proof proof = by_hand();
  change(proof);
  const auto verification = check(proof);
  CAPTURE(verification.detail);
  CHECK(verification.verdict == ProofVerdict::not_proved);
  CHECK(verification.detail.find(because) != std::string::npos);
}

}  // namespace

TEST_SUITE("verify") {
  TEST_CASE("a proof worked out by hand is accepted") {
    const auto verification = check(by_hand());
    CAPTURE(verification.detail);
    CHECK(verification.verdict == ProofVerdict::proved_optimal);
  }

  TEST_CASE("a blend that breaks a rule is refused, by a hair or by far") {
    refused([](Proof& p) { p.portions[0].kg = "499"; }, "breaks the rule 'total exactly'");
    refused([](Proof& p) { p.portions = {{"a", "499"}, {"b", "501"}}; }, "'grade p min'");
    refused(
        [](Proof& p) {
          p.portions = {{"a", "499999999999999999999/1000000000000000000"},
                        {"b", "500000000000000000001/1000000000000000000"}};
        },
        "'grade p min'");
  }

  TEST_CASE("a dearer blend is no optimum") {
    refused(
        [](Proof& p) {
          p.portions = {{"a", "600"}, {"b", "400"}};
          p.cost = "280";
        },
        "below the blend's cost");
  }

  TEST_CASE("a blend dearer by less than a billionth is proved within 1e-9") {
    Proof proof = by_hand();
    proof.portions = {{"a", "500000000001/1000000000"}, {"b", "499999999999/1000000000"}};
    proof.cost = "2500000000003/10000000000";
    const auto verification = check(proof);
    CAPTURE(verification.detail);
    CHECK(verification.verdict == ProofVerdict::proved_within_1e_9);
  }

  TEST_CASE("a check that may not go on says so, and proves nothing") {
    const Scenario scenario(two_goods());
    const auto late = verify(by_hand(), scenario, {.time_limit = std::chrono::nanoseconds(1)});
    CHECK(late.verdict == ProofVerdict::stopped);
    CHECK(late.cause == StopCause::time_limit);
    CHECK(late.detail.find("time limit") != std::string::npos);
    std::stop_source source;
    source.request_stop();
    const auto left = verify(by_hand(), scenario, {.stop = source.get_token()});
    CHECK(left.verdict == ProofVerdict::stopped);
    CHECK(left.cause == StopCause::cancelled);
    CHECK(to_json(left).find("\"cause\": \"cancelled\"") != std::string::npos);
    CHECK(to_text(left).starts_with("stopped: "));
  }

  TEST_CASE("the progress of a check counts the cases") {
    std::vector<long> done;
    const auto verification =
        verify(by_hand(), Scenario(two_goods()), {.progress = [&](const Progress& progress) {
                 CHECK(progress.of == "cases");
                 CHECK(progress.all == 1);
                 done.push_back(progress.done);
               }});
    CHECK(verification.verdict == ProofVerdict::proved_optimal);
    CHECK(done == std::vector<long>{1});
  }

  TEST_CASE("a wrong cost, bound or multiplier is refused") {
    refused([](Proof& p) { p.cost = "249"; }, "does not cost what is claimed");
    refused([](Proof& p) { p.cases[0].bound = "251"; }, "another bound");
    refused([](Proof& p) { p.cases[0].multipliers[0].value = "101/100"; }, "for too much");
    refused([](Proof& p) { p.cases[0].multipliers[0].value = "-1"; }, "of that sign");
    refused([](Proof& p) { p.cases[0].multipliers[0].rule = "grade p max"; }, "of that sign");
    refused([](Proof& p) { p.cases[0].multipliers[0].value = "99/100"; }, "another bound");
    refused([](Proof& p) { p.cases[0].multipliers.push_back({"grade p min", "1"}); }, "twice");
  }

  TEST_CASE("a lower bound than the cost is no proof of the least cost") {
    refused(
        [](Proof& p) {
          p.cases[0].multipliers[0].value = "99/100";
          p.cases[0].bound = "495/2";
        },
        "below the blend's cost");
  }

  TEST_CASE("a missing case, a surplus case or half a decision is refused") {
    refused([](Proof& p) { p.cases.clear(); }, "do not cover");
    refused([](Proof& p) { p.cases.push_back(p.cases[0]); }, "do not cover");
    refused([](Proof& p) { p.cases[0].decisions = {{"material out", "a"}}; }, "do not cover");
    refused(
        [](Proof& p) {
          p.cases.push_back(p.cases[0]);
          p.cases[0].decisions = {{"material out", "a"}};
          p.cases[1].decisions = {{"material at minimum", "b"}};
        },
        "do not cover");
  }

  TEST_CASE("a decision needs a rule in the scenario") {
    refused(
        [](Proof& p) {
          p.cases.push_back(p.cases[0]);
          p.cases[0].decisions = {{"material out", "a"}};
          p.cases[1].decisions = {{"material at minimum", "a"}};
        },
        "has no rule in the scenario");
    refused(
        [](Proof& p) {
          p.cases.push_back(p.cases[0]);
          p.cases[0].decisions = {{"granules out", "a"}};
          p.cases[1].decisions = {{"granules in", "a"}};
        },
        "has no rule in the scenario");
  }

  TEST_CASE("claiming that there is no blend needs a contradiction") {
    refused([](Proof& p) { p.claim = "infeasible"; }, "neither");
    refused(
        [](Proof& p) {
          p.claim = "infeasible";
          p.cost.clear();
          p.portions.clear();
        },
        "nothing settles it");
    refused(
        [](Proof& p) {
          p.claim = "infeasible";
          p.cost.clear();
          p.portions.clear();
          p.cases[0].settled_by = "contradiction";
        },
        "for too much");
    refused(
        [](Proof& p) {
          p.claim = "infeasible";
          p.cost.clear();
          p.portions.clear();
          p.cases = {{{}, {}, "contradiction", "0"}};
        },
        "do not contradict");
    refused([](Proof& p) { p.cases[0].settled_by = "bins"; }, "no more bins");
  }

  TEST_CASE("a proof belongs to one scenario") {
    auto other = two_goods();
    other.materials[1].price_per_t = 100.5;
    CHECK(verify(by_hand(), Scenario(other)).detail.find("another scenario") != std::string::npos);
    refused([](Proof& p) { p.title = "all of a"; }, "title");
    refused([](Proof& p) { p.basis = "per hectare"; }, "basis");
  }

  TEST_CASE("numbers too long to be meant are refused before anything is computed with them") {
    const std::string long_number = "1" + std::string(10'000, '0');
    refused([&](Proof& p) { p.portions[0].kg = long_number; }, "more than 10 000 digits");
    refused([&](Proof& p) { p.portions[0].kg = "1/" + long_number; }, "more than 10 000 digits");
    refused([&](Proof& p) { p.cost = long_number; }, "more than 10 000 digits");
    refused([&](Proof& p) { p.cases[0].multipliers[0].value = long_number; },
            "more than 10 000 digits");
    refused([&](Proof& p) { p.cases[0].bound = "1/" + long_number; }, "more than 10 000 digits");
  }

  TEST_CASE("numbers that share no denominator of reasonable length are refused") {
    const std::string zeros(9'000, '0');
    const std::string one = "1/1" + zeros + "0";
    const std::string other = "1/1" + zeros + "1";
    refused(
        [&](Proof& p) {
          p.portions = {{"a", one}, {"b", other}};
        },
        "common denominator too long");
    refused(
        [&](Proof& p) {
          p.cases[0].multipliers = {{"grade p min", one}, {"total exactly", other}};
        },
        "common denominator too long");
  }

  TEST_CASE("whoever asks to stop is heard between two cases") {
    std::stop_source stop;
    Proof proof = by_hand();
    proof.cases.push_back(proof.cases[0]);
    proof.cases[0].decisions = {{"family out", "a"}};
    proof.cases[1].decisions = {{"neighbours out", "a"}};
    long seen = 0;
    const auto verification = verify(proof, Scenario(two_goods()),
                                     {.stop = stop.get_token(), .progress = [&](const Progress& p) {
                                        seen = p.done;
                                        stop.request_stop();
                                      }});
    CHECK(verification.verdict == ProofVerdict::stopped);
    CHECK(seen == 1);
  }

  TEST_CASE("portions are of materials that may enter, once each, above nothing") {
    refused([](Proof& p) { p.portions[0].material = "c"; }, "may not enter");
    refused([](Proof& p) { p.portions.push_back({"a", "1"}); }, "two portions");
    refused([](Proof& p) { p.portions[0].kg = "-500"; }, "not above 0");
    refused([](Proof& p) { p.portions[0].kg = "500.0"; }, "lowest terms");
    refused([](Proof& p) { p.portions[0].kg = "1000/2"; }, "lowest terms");
  }
}
