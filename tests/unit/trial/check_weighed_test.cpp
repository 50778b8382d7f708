#include <leastwise/trial_check.hpp>
#include <leastwise/trial_report.hpp>

#include <doctest/doctest.h>

#include "samples.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

std::vector<Weighed> as_planned(const TrialPlan& plan) {
  std::vector<Weighed> weighed;
  for (const auto& treatment : plan.treatments) {
    for (const auto& code : treatment.batch_codes) {
      for (const auto& weighing : treatment.weighings) {
        weighed.push_back(
            {code, weighing.material, static_cast<double>(weighing.mass_mg) / 1000, {}});
      }
    }
  }
  return weighed;
}

std::string code_of(const Trial& trial, const TrialPlan& plan, const std::vector<Weighed>& lines) {
  try {
    (void)check_weighed(trial, plan, lines);
  } catch (const InputError& error) {
    return error.diagnostics().front().code;
  }
  return {};
}

}  // namespace

TEST_SUITE("check of what was weighed") {
  const Trial trial(small_trial({solved("starter", starter())}));
  const TrialPlan plan = plan_trial(trial);

  TEST_CASE("masses as planned give the rates of the plan") {
    const WeighedCheck check = check_weighed(trial, plan, as_planned(plan));
    REQUIRE(check.batches.size() == 1);
    CHECK(check.verdict != Verdict::broken);
    CHECK(check.not_weighed.empty());
    const auto& nutrients = plan.treatments[0].nutrients;
    REQUIRE(check.batches[0].nutrients.size() == nutrients.size());
    for (std::size_t i = 0; i < nutrients.size(); ++i) {
      CHECK(check.batches[0].nutrients[i].achieved_kg_per_ha ==
            doctest::Approx(nutrients[i].achieved_kg_per_ha));
    }
  }

  TEST_CASE("half the zinc oxide breaks the rule on zinc and is said so") {
    auto weighed = as_planned(plan);
    for (auto& line : weighed) {
      if (line.material == "zinc-oxide") line.mass_g /= 2;
    }
    const WeighedCheck check = check_weighed(trial, plan, weighed);
    CHECK(check.verdict == Verdict::broken);
    bool found = false;
    for (const auto& rule : check.batches[0].rules) {
      if (rule.rule != "rate Zn min") continue;
      found = true;
      CHECK(rule.verdict == Verdict::broken);
      CHECK(rule.missed_percent == doctest::Approx(50).epsilon(0.02));
    }
    CHECK(found);
    CHECK(to_text(check).find("broken") != std::string::npos);
  }

  TEST_CASE("a batch that came out too small for its plots is told") {
    auto weighed = as_planned(plan);
    for (auto& line : weighed) line.mass_g *= 0.9;
    const WeighedCheck check = check_weighed(trial, plan, weighed);
    REQUIRE(!check.batches[0].notes.empty());
    CHECK(check.batches[0].notes[0].text.find("short") != std::string::npos);
  }

  TEST_CASE("the batch list with its column filled in can be handed back") {
    std::string csv = to_csv(plan, PlanList::batches);
    std::string filled;
    std::size_t line_start = 0;
    for (std::size_t n = 0; line_start < csv.size(); ++n) {
      const std::size_t end = csv.find('\n', line_start);
      std::string line = csv.substr(line_start, end - line_start);
      if (n > 0) line.insert(line.size() - 2, std::to_string(n));  // before lot and initials
      filled += line + "\n";
      line_start = end + 1;
    }
    const auto weighed = parse_weighed(filled);
    CHECK(weighed.size() == plan.treatments[0].weighings.size());
    CHECK(weighed[0].mass_g == doctest::Approx(1));
  }

  TEST_CASE("an unknown batch, an unknown material, a repeated and a missing one are refused") {
    auto weighed = as_planned(plan);
    auto wrong = weighed;
    wrong[0].batch = "ST-T9-B1";
    CHECK(code_of(trial, plan, wrong) == "unknown-batch");
    wrong = weighed;
    wrong[0].material = "lime";
    CHECK(code_of(trial, plan, wrong) == "unknown-material");
    wrong = weighed;
    wrong.push_back(wrong[0]);
    CHECK(code_of(trial, plan, wrong) == "weighed-twice");
    wrong = weighed;
    wrong.pop_back();
    CHECK(code_of(trial, plan, wrong) == "not-weighed");
  }

  TEST_CASE("lists that cannot be read are refused with their place") {
    for (const auto* text : {"", "batch,material\nA,b\n", "batch,material,actual_g\nA,b,x\n",
                             "batch,material,actual_g\nA,b,-1\n", "batch,material,actual_g\nA,b\n",
                             "batch,material,actual_g\nA,b,\n"}) {
      CAPTURE(text);
      CHECK_THROWS_AS((void)parse_weighed(text), InputError);
    }
    CHECK_THROWS_AS((void)load_weighed("no such file.csv"), InputError);
  }
}
