#include <leastwise/trial_check.hpp>
#include <leastwise/trial_plan.hpp>
#include <leastwise/trial_report.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <numeric>
#include <set>
#include <string>
#include <tuple>

#include "random_trial.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

/// 2000 in the long run: LEASTWISE_TRIALS.
std::uint64_t trials() {
  const char* text = std::getenv("LEASTWISE_TRIALS");
  return text == nullptr ? 300 : std::stoull(text);
}

std::int64_t mass_of(const Plot& plot) {
  return std::accumulate(plot.packs.begin(), plot.packs.end(), std::int64_t{0},
                         [](std::int64_t sum, const Pack& pack) { return sum + pack.mass_mg; });
}

/// Plots + spare = batches = materials, for one treatment, in whole milligrams.
void check_treatment(const TrialPlan& plan, std::size_t t) {
  const TreatmentPlan& treatment = plan.treatments[t];
  std::int64_t on_plots = 0;
  std::size_t last = 0;
  for (const auto& plot : plan.plots) {
    if (plot.treatment != t) continue;
    on_plots += mass_of(plot);
    for (const auto& pack : plot.packs) {  // the loads in turn, none left out
      REQUIRE((pack.first_load == last || pack.first_load == last + 1));
      REQUIRE(pack.last_load >= pack.first_load);
      last = pack.last_load;
      REQUIRE(last < treatment.batch_codes.size());
      std::int64_t taken = 0;
      for (const auto& source : pack.sources) taken += source.mass_mg;
      REQUIRE(taken == pack.mass_mg);
      REQUIRE(pack.sources.front().load == pack.first_load);
      REQUIRE(pack.sources.back().load == pack.last_load);
    }
  }
  if (on_plots > 0) REQUIRE(last + 1 == treatment.batch_codes.size());
  std::int64_t load = 0;
  for (const auto& weighing : treatment.weighings) {
    load += weighing.mass_mg;
    REQUIRE(weighing.mass_mg % weighing.readability_mg == 0);
    REQUIRE(weighing.mass_mg > 0);  // no row of nothing
    REQUIRE(std::accumulate(weighing.parts_mg.begin(), weighing.parts_mg.end(), std::int64_t{0}) ==
            weighing.mass_mg);
  }
  const auto loads = static_cast<std::int64_t>(treatment.batch_codes.size());
  REQUIRE(on_plots == treatment.packs_mg);
  REQUIRE(load == treatment.load_mg);
  REQUIRE(load * loads == treatment.total_mg);
  REQUIRE(treatment.packs_mg + treatment.spare_mg == treatment.total_mg);
  const double asked = static_cast<double>(treatment.packs_mg) * plan.spare_percent / 100;
  REQUIRE(static_cast<double>(treatment.spare_mg) >= asked * (1 - 1e-12) - 1);
}

/// Every plot is there once, and every treatment as often in each block as the site says.
void check_plots(const Trial& trial, const TrialPlan& plan) {
  std::size_t expected = 0;
  for (const auto& site : trial.sites()) {
    expected += trial.treatments().size() *
                static_cast<std::size_t>(site.replicates * site.plots_per_treatment);
  }
  REQUIRE(plan.plots.size() == expected);
  std::map<std::tuple<std::size_t, int, std::size_t>, int> in_block;
  std::set<std::string> codes;
  for (const auto& plot : plan.plots) {
    ++in_block[{plot.site, plot.replicate, plot.treatment}];
    if (!plot.again) REQUIRE(codes.insert(plot.code).second);
    for (const auto& pack : plot.packs) {
      if (pack.label != plot.code) REQUIRE(codes.insert(pack.label).second);
    }
  }
  for (const auto& [key, times] : in_block) {
    REQUIRE(times == trial.sites()[std::get<0>(key)].plots_per_treatment);
  }
  for (const auto& treatment : plan.treatments) {
    for (const auto& code : treatment.batch_codes) REQUIRE(codes.insert(code).second);
  }
}

/// mg of powder in what plots get of solutions.
std::int64_t powder_sprayed(const TrialPlan& plan) {
  std::int64_t mg = 0;
  for (const auto& mix : plan.mixes)
    if (mix.solution) mg += mix.parts.front().used_mg;
  return mg;
}

/// What is bought is what goes into the batches, split into what the plots get and the spare.
void check_purchases(const TrialPlan& plan) {
  std::int64_t need = 0;
  std::int64_t spare = 0;
  std::int64_t rest = 0;
  for (const auto& purchase : plan.purchases) {
    need += purchase.need_mg;
    spare += purchase.spare_mg;
    REQUIRE(purchase.need_mg >= 0);
    REQUIRE(purchase.spare_mg >= 0);
    REQUIRE(purchase.mix_rest_mg >= 0);
    rest += purchase.mix_rest_mg;
    REQUIRE((purchase.bought_kg + purchase.from_stock_kg) * 1e6 >=
            static_cast<double>(purchase.need_mg + purchase.spare_mg + purchase.mix_rest_mg) - 0.5);
  }
  std::int64_t packs = 0;
  std::int64_t total = 0;
  for (const auto& treatment : plan.treatments) {
    packs += treatment.packs_mg;
    total += treatment.total_mg;
  }
  REQUIRE(need == packs + powder_sprayed(plan));
  REQUIRE(need + spare == total + powder_sprayed(plan));
  // What is weighed into the mixes is in loads or left over.
  std::int64_t weighed = 0;
  std::int64_t taken = 0;
  for (const auto& mix : plan.mixes) {
    for (const auto& part : mix.parts) {
      if (mix.solution && part.carrier) continue;  // water
      weighed += part.weighed_mg;
      taken += part.used_mg;
    }
  }
  REQUIRE(rest == weighed - taken);
}

/// Every mix by its sheet: what each step weighs, what the loads take, and that it is enough.
void check_mixes(const TrialPlan& plan) {
  std::vector<std::int64_t> taken(plan.mixes.size(), 0);
  for (const auto& treatment : plan.treatments) {
    for (const auto& weighing : treatment.weighings) {
      if (!weighing.mix) continue;
      REQUIRE(weighing.material == plan.mixes[*weighing.mix].code);
      taken[*weighing.mix] +=
          weighing.mass_mg * static_cast<std::int64_t>(treatment.batch_codes.size());
    }
  }
  for (const auto& plot : plan.plots) {
    for (const auto& spray : plot.sprays) {
      REQUIRE(spray.mass_mg >= 50 * spray.readability_mg);
      taken[*plan.treatments[plot.treatment].sprays[spray.spray].mix] += spray.mass_mg;
    }
  }
  for (std::size_t m = 0; m < plan.mixes.size(); ++m) {
    const StockMix& mix = plan.mixes[m];
    REQUIRE(mix.taken_mg == taken[m]);
    REQUIRE(mix.taken_mg <= mix.mass_mg);
    std::int64_t used = 0;
    double fractions = 0;
    for (const auto& part : mix.parts) {
      used += part.used_mg;
      fractions += part.fraction;
      REQUIRE(part.used_mg <= part.weighed_mg);
    }
    REQUIRE(used == mix.taken_mg);
    REQUIRE(fractions == doctest::Approx(1));
    std::int64_t before = 0;
    for (const auto& step : mix.steps) {
      std::int64_t sum = 0;
      for (const auto& weighing : step.weighings) {
        sum += weighing.mass_mg;
        REQUIRE(weighing.mass_mg >= 50 * weighing.readability_mg);
        if (weighing.earlier_mix) REQUIRE(weighing.mass_mg <= before);
      }
      REQUIRE(sum == step.mass_mg);
      before = sum;
    }
  }
}

/// A product is made only where every rule holds to within 1 %; a stated recipe is made as stated.
void check_rules(const TreatmentPlan& treatment, TreatmentKind kind) {
  if (treatment.state != TreatmentState::planned) {
    REQUIRE(treatment.batch_codes.empty());
    REQUIRE(treatment.total_mg == 0);
    return;
  }
  if (kind == TreatmentKind::recipe) return;
  for (const auto& rule : treatment.rules) REQUIRE(rule.verdict != leastwise::Verdict::broken);
}

/// Each nutrient, computed again from the label and the masses, without the library's own sums.
void check_nutrients(const Trial& trial, const TrialPlan& plan, std::size_t t) {
  const TreatmentPlan& treatment = plan.treatments[t];
  const Scenario& scenario = *trial.treatments()[t].scenario;
  for (const auto& nutrient : treatment.nutrients) {
    double mg = 0;
    const auto add = [&](const std::string& name, double mass_mg) {
      const auto i = scenario.index_of(name);
      if (i) mg += mass_mg * content_percent(scenario.materials()[*i], nutrient.nutrient) / 100;
    };
    for (const auto& weighing : treatment.weighings) {
      if (weighing.role == Role::binder) continue;
      const auto mass_mg = static_cast<double>(weighing.mass_mg);
      if (!weighing.mix) {
        add(weighing.material, mass_mg);
        continue;
      }
      for (const auto& part : plan.mixes[*weighing.mix].parts)
        add(part.material, mass_mg * part.fraction);
    }
    double on_plots =
        mg / static_cast<double>(treatment.load_mg) * static_cast<double>(treatment.packs_mg);
    for (const auto& plot : plan.plots) {
      if (plot.treatment != t) continue;
      for (const auto& spray : plot.sprays) {
        const StockMix& mix = plan.mixes[*treatment.sprays[spray.spray].mix];
        const Material& material = scenario.materials()[*scenario.index_of(mix.parts[0].material)];
        on_plots += static_cast<double>(spray.mass_mg) * mix.parts[0].fraction *
                    content_percent(material, nutrient.nutrient) / 100;
      }
    }
    const double kg_per_ha = on_plots / 1e6 / (treatment.area_m2 / 1e4);
    REQUIRE(nutrient.achieved_kg_per_ha == doctest::Approx(kg_per_ha).epsilon(1e-9));
  }
}

void check_load_fits(const Trial& trial, const TreatmentPlan& treatment) {
  for (const auto& note : treatment.notes) {
    if (note.text.find("too coarse") != std::string::npos) return;
  }
  for (const auto& mixer : trial.mixers()) {
    if (mixer.name != treatment.mixer) continue;
    const double kg = static_cast<double>(treatment.load_mg) / 1e6;
    if (mixer.capacity_kg) REQUIRE(kg <= *mixer.capacity_kg * (1 + 1e-9));
    if (mixer.capacity_litres) {
      REQUIRE(kg / treatment.bulk_density_kg_per_m3 * 1000 <= *mixer.capacity_litres * (1 + 1e-6));
    }
  }
}

}  // namespace

TEST_CASE("plots + spare = batches = materials, and no plot is lost or invented") {
  std::size_t products = 0;
  std::size_t mixes = 0;  // trials that have any
  std::size_t solutions = 0;
  for (std::uint64_t seed = 1; seed <= trials(); ++seed) {
    CAPTURE(seed);
    const Trial trial(random_trial(seed));
    const TrialPlan plan = plan_trial(trial, {.intervals = false});
    check_plots(trial, plan);
    check_purchases(plan);
    check_mixes(plan);
    mixes += plan.mixes.empty() ? 0U : 1U;
    solutions += static_cast<std::size_t>(std::ranges::count_if(plan.mixes, &StockMix::solution));
    for (std::size_t t = 0; t < plan.treatments.size(); ++t) {
      check_treatment(plan, t);
      check_rules(plan.treatments[t], trial.treatments()[t].kind);
      if (plan.treatments[t].state != TreatmentState::planned) continue;
      ++products;
      check_nutrients(trial, plan, t);
      check_load_fits(trial, plan.treatments[t]);
    }
  }
  CHECK(products > trials());  // the property must have been put to work
  CHECK(mixes > trials() / 4);
  CHECK(solutions > trials() / 150);
}

TEST_CASE("the same trial gives the same bytes, and reports never fail") {
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    const TrialDraft draft = random_trial(seed);
    const TrialPlan one = plan_trial(Trial(draft), {.intervals = false});
    const TrialPlan two = plan_trial(Trial(draft), {.intervals = false});
    REQUIRE(to_json(one) == to_json(two));
    REQUIRE(to_html(one) == to_html(two));
    REQUIRE(to_text(one) == to_text(two));
  }
}

TEST_CASE("masses weighed as planned achieve what the plan says") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const Trial trial(random_trial(seed));
    const TrialPlan plan = plan_trial(trial, {.intervals = false});
    std::vector<Weighed> weighed;
    for (const auto& mix : plan.mixes)
      for (const auto& step : mix.steps)
        for (const auto& w : step.weighings)
          weighed.push_back(
              {step.batch_code, w.material, static_cast<double>(w.mass_mg) / 1000, {}});
    for (const auto& treatment : plan.treatments) {
      for (const auto& code : treatment.batch_codes) {
        for (const auto& w : treatment.weighings) {
          weighed.push_back({code,
                             w.material.empty() ? "binder" : w.material,
                             static_cast<double>(w.mass_mg) / 1000,
                             {}});
        }
      }
    }
    const WeighedCheck check = check_weighed(trial, plan, weighed);
    REQUIRE(check.not_weighed.empty());
    std::size_t b = 0;
    for (const auto& treatment : plan.treatments) {
      for (std::size_t load = 0; load < treatment.batch_codes.size(); ++load, ++b) {
        REQUIRE(check.batches[b].rules.size() == treatment.rules.size());
        for (std::size_t i = 0; i < treatment.rules.size(); ++i) {
          REQUIRE(check.batches[b].rules[i].verdict == treatment.rules[i].verdict);
        }
        for (std::size_t i = 0; i < treatment.nutrients.size(); ++i) {
          REQUIRE(check.batches[b].nutrients[i].achieved_kg_per_ha ==
                  doctest::Approx(treatment.nutrients[i].achieved_kg_per_ha).epsilon(1e-9));
        }
      }
    }
  }
}
