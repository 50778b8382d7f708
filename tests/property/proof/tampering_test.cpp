#include <doctest/doctest.h>
#include <leastwise/diagnostic.hpp>
#include <leastwise/prove.hpp>
#include <leastwise/verify.hpp>

#include <algorithm>
#include <cstdlib>
#include <functional>
#include <string>
#include <vector>

#include "property/proof/hard_draft.hpp"
#include "support/generator.hpp"
#include "support/random.hpp"

using namespace leastwise;

namespace {

struct Specimen {
  Scenario scenario;
  Proof proof;
};

/// Proofs of every kind: one case and many, both bases, optimal and infeasible, bins, minima.
const std::vector<Specimen>& specimens() {
  static const std::vector<Specimen> all = [] {
    std::vector<Specimen> list;
    const auto keep = [&](const ScenarioDraft& draft, std::size_t most_cases) {
      const Scenario scenario(draft);
      auto proven = formulate_with_proof(scenario, {.intervals = false});
      if (!proven.proof || proven.proof->cases.size() > most_cases) return false;
      list.push_back({scenario, *proven.proof});
      return true;
    };
    for (std::uint64_t seed = 0, kept = 0; kept < 4 && seed < 400; ++seed)
      kept += keep(support::hard_draft(seed, support::Hardship::either_or), 12) &&
                      list.back().proof.cases.size() > 2
                  ? 1
                  : 0;
    for (std::uint64_t seed = 0, kept = 0; kept < 2 && seed < 100; ++seed)
      kept += keep(support::random_draft(seed, {.materials = 12}), 8) ? 1 : 0;
    for (std::uint64_t seed = 0, kept = 0; kept < 2 && seed < 400; ++seed)
      kept += keep(support::hard_draft(seed, support::Hardship::barely_impossible), 4) &&
                      list.back().proof.claim == "infeasible"
                  ? 1
                  : 0;
    return list;
  }();
  return all;
}

/// What a reader of the file makes of it: refused, or a verdict.
ProofVerdict judged(const std::string& text, const Scenario& scenario) {
  try {
    return verify(parse_proof(text), scenario).verdict;
  } catch (const InputError&) {
    return ProofVerdict::not_proved;
  }
}

/// Every text a proof holds, and whether it is a multiplier's value.
void for_each_text(Proof& proof, const std::function<void(std::string&, bool)>& visit) {
  for (auto* text :
       {&proof.claim, &proof.scenario, &proof.title, &proof.currency, &proof.basis, &proof.cost})
    visit(*text, false);
  for (auto& portion : proof.portions) {
    visit(portion.material, false);
    visit(portion.kg, false);
  }
  for (auto& one : proof.cases) {
    for (auto& decision : one.decisions) {
      visit(decision.choice, false);
      visit(decision.of, false);
    }
    for (auto& multiplier : one.multipliers) {
      visit(multiplier.rule, false);
      visit(multiplier.value, true);
    }
    visit(one.settled_by, false);
    visit(one.bound, false);
  }
}

/// `text` changed in many small ways.
std::vector<std::string> spoiled(const std::string& text) {
  std::vector<std::string> results{text + "1", "1" + text, text.empty() ? "1" : ""};
  results.push_back(!text.empty() && text[0] == '-' ? text.substr(1) : "-" + text);
  for (std::size_t k = 0; k < text.size() && k < 12; ++k) {
    std::string other = text;
    other[k] = text[k] == '9' ? '8' : text[k] == '0' ? '1' : static_cast<char>(text[k] + 1);
    results.push_back(other);
    results.push_back(text.substr(0, k) + text.substr(k + 1));
  }
  const std::size_t slash = text.find('/');
  if (slash != std::string::npos)
    results.push_back(text.substr(slash + 1) + "/" + text.substr(0, slash));
  return results;
}

/// A proof whose seal was renewed may only pass when it still proves the same: other multipliers
/// can prove the same bound. Nothing else of it can be changed.
bool claims_otherwise(const Proof& changed, const Specimen& specimen) {
  return changed.claim != specimen.proof.claim || changed.cost != specimen.proof.cost;
}

bool passes_with_another_claim(const Proof& changed, const Specimen& specimen) {
  return claims_otherwise(changed, specimen) &&
         judged(to_json(changed), specimen.scenario) != ProofVerdict::not_proved;
}

int failures(const Specimen& specimen, const std::function<void(Proof&)>& change) {
  Proof changed = specimen.proof;
  change(changed);
  if (to_json(changed) == to_json(specimen.proof)) return 0;
  return judged(to_json(changed), specimen.scenario) == ProofVerdict::not_proved ? 0 : 1;
}

}  // namespace

TEST_SUITE("tampering") {
  TEST_CASE("the untouched proofs stand") {
    CHECK(specimens().size() >= 8);
    for (const auto& specimen : specimens())
      CHECK(judged(to_json(specimen.proof), specimen.scenario) != ProofVerdict::not_proved);
  }

  TEST_CASE("a file in which any one character was changed is refused") {
    int accepted = 0;
    for (const auto& specimen : specimens()) {
      const std::string text = to_json(specimen.proof);
      const std::size_t step = std::max<std::size_t>(1, text.size() / 1500);
      for (std::size_t k = 0; k < text.size(); k += step) {
        const char c = text[k];
        if (c == ' ' || c == '\n') continue;
        std::string changed = text;
        changed[k] = c == '9' ? '0' : static_cast<char>(c + 1);
        if (judged(changed, specimen.scenario) != ProofVerdict::not_proved) ++accepted;
        changed = text.substr(0, k) + text.substr(k + 1);
        if (judged(changed, specimen.scenario) != ProofVerdict::not_proved) ++accepted;
      }
    }
    CHECK(accepted == 0);
  }

  // One forgery in seven, another one for each field; all of them with LEASTWISE_FORGERIES=all.
  TEST_CASE("a forger who renews the seal gains nothing: every field is checked by itself") {
    const std::size_t step = std::getenv("LEASTWISE_FORGERIES") == nullptr ? 7 : 1;
    std::size_t forgeries = 0;
    int tried = 0;
    int accepted = 0;
    int reweighted = 0;
    for (const auto& specimen : specimens()) {
      Proof changed = specimen.proof;
      for_each_text(changed, [&](std::string& text, bool is_multiplier) {
        const std::string original = text;
        for (const auto& other : spoiled(original)) {
          if (other == original || forgeries++ % step != 0) continue;
          ++tried;
          text = other;
          if (judged(to_json(changed), specimen.scenario) == ProofVerdict::not_proved) continue;
          ++(is_multiplier && !claims_otherwise(changed, specimen) ? reweighted : accepted);
        }
        text = original;
      });
    }
    CHECK(tried > 1000);
    CHECK(accepted == 0);
    MESSAGE(tried << " forgeries; " << reweighted
                  << " other multipliers prove the same bound as well");
  }

  TEST_CASE("a case, decision, multiplier or portion that is dropped or doubled is noticed") {
    int accepted = 0;
    for (const auto& specimen : specimens()) {
      for (std::size_t k = 0; k < specimen.proof.cases.size(); ++k) {
        const auto at = static_cast<std::ptrdiff_t>(k);
        accepted += failures(specimen, [&](Proof& p) { p.cases.erase(p.cases.begin() + at); });
        accepted += failures(specimen, [&](Proof& p) { p.cases.push_back(p.cases[k]); });
        accepted += failures(specimen, [&](Proof& p) { p.cases[k].multipliers.clear(); });
        const auto& one = specimen.proof.cases[k];
        for (std::size_t d = 0; d < one.decisions.size(); ++d) {
          const auto where = static_cast<std::ptrdiff_t>(d);
          accepted += failures(specimen, [&](Proof& p) {
            p.cases[k].decisions.erase(p.cases[k].decisions.begin() + where);
          });
          accepted += failures(
              specimen, [&](Proof& p) { p.cases[k].decisions.push_back(p.cases[k].decisions[d]); });
        }
      }
      for (std::size_t k = 0; k < specimen.proof.portions.size(); ++k) {
        const auto at = static_cast<std::ptrdiff_t>(k);
        accepted +=
            failures(specimen, [&](Proof& p) { p.portions.erase(p.portions.begin() + at); });
        accepted += failures(specimen, [&](Proof& p) { p.portions.push_back(p.portions[k]); });
      }
      for (std::size_t k = 1; k < specimen.proof.portions.size(); ++k)
        accepted += failures(specimen, [&](Proof& p) {
          std::swap(p.portions[k].material, p.portions[k - 1].material);
        });
    }
    CHECK(accepted == 0);
  }

  TEST_CASE("rules that trade their multipliers prove nothing else") {
    int accepted = 0;
    for (const auto& specimen : specimens())
      for (std::size_t k = 0; k < specimen.proof.cases.size(); ++k)
        for (std::size_t m = 1; m < specimen.proof.cases[k].multipliers.size(); ++m) {
          Proof changed = specimen.proof;
          auto& multipliers = changed.cases[k].multipliers;
          std::swap(multipliers[m].value, multipliers[m - 1].value);
          if (passes_with_another_claim(changed, specimen)) ++accepted;
        }
    CHECK(accepted == 0);
  }

  TEST_CASE("a proof does not fit a scenario in which any number was changed") {
    int accepted = 0;
    for (const auto& specimen : specimens()) {
      const auto try_draft = [&](const std::function<void(ScenarioDraft&)>& change) {
        ScenarioDraft draft = specimen.scenario.draft();
        change(draft);
        try {
          if (verify(specimen.proof, Scenario(draft)).verdict != ProofVerdict::not_proved)
            ++accepted;
        } catch (const InputError&) {
          return;  // no scenario at all
        }
      };
      const auto& prices = specimen.scenario.draft().prices;
      for (std::size_t i = 0; i < specimen.scenario.draft().materials.size(); ++i) {
        const std::string& name = specimen.scenario.draft().materials[i].name;
        if (!specimen.scenario.index_of(name)) continue;  // not in use
        if (std::ranges::count(prices, name, &PriceDraft::material) == 0)
          try_draft([&](ScenarioDraft& d) { *d.materials[i].price_per_t += 0.01; });
        if (specimen.scenario.draft().materials[i].contains_percent)
          for (std::size_t c = 0;
               c < specimen.scenario.draft().materials[i].contains_percent->size(); ++c)
            try_draft([&](ScenarioDraft& d) {
              auto& percent = (*d.materials[i].contains_percent)[c].percent;
              percent -= percent / 1000;
            });
        try_draft([&](ScenarioDraft& d) { d.materials[i].name += "x"; });
      }
      for (std::size_t k = 0; k < specimen.scenario.draft().rates_kg_per_ha.size(); ++k)
        try_draft([&](ScenarioDraft& d) {
          d.rates_kg_per_ha[k].limits.min *= 0.999;
          d.rates_kg_per_ha[k].limits.max *= 1.001;
        });
      for (std::size_t k = 0; k < specimen.scenario.draft().grade_percent.size(); ++k)
        try_draft([&](ScenarioDraft& d) {
          d.grade_percent[k].limits.min *= 0.999;
          d.grade_percent[k].limits.max *= 1.001;
        });
      if (specimen.scenario.bins()) try_draft([&](ScenarioDraft& d) { d.bins = *d.bins + 1; });
    }
    CHECK(accepted == 0);
  }

  TEST_CASE("random tampering of proofs with a renewed seal never proves a falsehood") {
    support::Random random(2026);
    int accepted = 0;
    for (int round = 0; round < 3000; ++round) {
      const auto& specimen = specimens()[random.index(specimens().size())];
      Proof changed = specimen.proof;
      std::vector<std::string*> texts;
      for_each_text(changed, [&](std::string& text, bool) { texts.push_back(&text); });
      const int changes = random.whole(1, 3);
      for (int k = 0; k < changes; ++k) {
        std::string& text = *texts[random.index(texts.size())];
        if (random.chance(0.5)) {
          text = *texts[random.index(texts.size())];
        } else {
          const auto others = spoiled(text);
          text = others[random.index(others.size())];
        }
      }
      if (passes_with_another_claim(changed, specimen)) ++accepted;
    }
    CHECK(accepted == 0);
  }
}
