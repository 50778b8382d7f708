#include <leastwise/verify.hpp>

#include <algorithm>

#include "exact/decimal.hpp"
#include "exact/fingerprint.hpp"
#include "verify/checker.hpp"

namespace leastwise {
namespace {

using namespace checker;

void require(bool holds, const std::string& otherwise) {
  if (!holds) throw otherwise;
}

/// Checks the proof of one scenario; everything it needs is rebuilt from the scenario.
class Checker {
 public:
  Checker(const Proof& proof, const Scenario& scenario, const StopCheck& stop)
      : proof_(proof), stop_(stop), rules_(rules_of(scenario, stop)) {
    require(exact::is_of(proof.scenario, scenario),
            "the proof was made for another scenario or for other numbers");
    require(proof.title == scenario.title() && proof.currency == scenario.currency() &&
                proof.basis == (scenario.basis() == Basis::per_tonne ? "per tonne" : "per hectare"),
            "the title, the currency or the basis is not that of the scenario");
    // Each column times its common denominator: whole numbers from here on.
    for (std::size_t j = 0; j < rules_.materials.size(); ++j) {
      stop_();
      Integer scale = denominator(rules_.cost[j]);
      for (const auto& rule : rules_.rules)
        scale = lcm(scale, Integer(denominator(rule.coefficient[j])));
      scaled_.emplace_back();
      for (const auto& rule : rules_.rules)
        scaled_.back().push_back(numerator(Rational(rule.coefficient[j] * scale)));
      scaled_.back().push_back(numerator(Rational(rules_.cost[j] * scale)));
    }
  }

  ProofVerdict check(const ProgressCallback& progress) {
    const bool optimal = proof_.claim == "optimal";
    require(
        optimal || (proof_.claim == "infeasible" && proof_.portions.empty() && proof_.cost.empty()),
        "the claim is neither an optimal blend nor that there is none");
    if (optimal) check_blend();
    require(covers_every_blend(proof_.cases), "the cases do not cover every blend exactly once");
    for (const auto& one : proof_.cases) {
      stop_();
      check_case(one);
      if (progress) progress({"cases", &one - proof_.cases.data() + 1, std::ssize(proof_.cases)});
    }
    if (!optimal) return ProofVerdict::proved_infeasible;
    require(cost_ - lowest_ <= abs(cost_) / 1'000'000'000, "a bound lies below the blend's cost");
    return lowest_ == cost_ ? ProofVerdict::proved_optimal : ProofVerdict::proved_within_1e_9;
  }

 private:
  /// A number of the proof. The numbers of one blend, or of one case, solve one system: they have a
  /// common denominator of reasonable length, which bounds the work.
  Rational number(const std::string& text, const std::string& what, Integer& shared) {
    stop_();
    require(text.size() <= exact::longest_fraction, what + " has more than 10 000 digits");
    const auto value = exact::parse(text);
    require(value.has_value(), what + " is not a whole number or a fraction in lowest terms");
    shared = lcm(shared, Integer(denominator(*value)));
    require(msb(shared) < 40'000, what + " makes the common denominator too long");
    return *value;
  }

  /// The blend obeys every rule, exactly, and costs what it is said to cost.
  void check_blend() {
    std::map<std::size_t, Rational> kg;
    Integer shared = 1;
    int granular = 0;
    std::set<std::string> families;
    for (const auto& [material, text] : proof_.portions) {
      const auto j = static_cast<std::size_t>(std::ranges::find(rules_.materials, material) -
                                              rules_.materials.begin());
      require(j < rules_.materials.size(),
              "'" + material + "' may not enter a blend of the scenario");
      const Rational amount = number(text, "the amount of '" + material + "'", shared);
      require(kg.emplace(j, amount).second, "'" + material + "' has two portions");
      require(amount > 0, "the amount of '" + material + "' is not above 0");
      granular += rules_.granular[j];
      families.insert(rules_.families[j]);
      cost_ += rules_.cost[j] * amount;
    }
    for (const auto& rule : rules_.rules) {
      stop_();
      if (rule.if_used && !kg.contains(*rule.if_used)) continue;
      Rational sum = 0;
      for (const auto& [j, amount] : kg) sum += rule.coefficient[j] * amount;
      require(rule.is_maximum ? sum <= rule.limit : sum >= rule.limit,
              "the blend breaks the rule '" + rule.name + "'");
    }
    require(granular <= rules_.bins.value_or(granular), "the blend needs too many bins");
    for (const auto& [a, b] : rules_.apart)
      require(!families.contains(a) || !families.contains(b), "the blend mixes " + a + ", " + b);
    require(cost_ == number(proof_.cost, "the cost", shared),
            "the blend does not cost what is claimed");
    lowest_ = cost_;
  }

  /// Weak duality: if no material costs less than the rules count for it, no blend of the case
  /// costs less than the limits add up to. Without costs, that is a contradiction.
  void check_case(const ProofCase& one) {
    const std::string here = "case " + std::to_string(&one - proof_.cases.data() + 1) + ": ";
    const Implied implied = implied_by(one.decisions, rules_);
    const bool by_cost = one.settled_by == "cost" && proof_.claim == "optimal";
    if (one.settled_by == "bins")
      return require(implied.too_many_bins && one.multipliers.empty() && one.bound.empty(),
                     here + "no more bins are held than there are, or there are surplus numbers");
    require(by_cost || one.settled_by == "contradiction", here + "nothing settles it");
    std::map<std::size_t, Rational> weights;
    Integer shared = 1;
    Rational bound = 0;
    for (const auto& [name, text] : one.multipliers) {
      const Rational weight = number(text, here + "the multiplier of '" + name + "'", shared);
      const auto rule = std::ranges::find_if(rules_.rules, [&, &name = name](const Rule& held) {
        return held.name == name && held.is_maximum == (weight < 0) &&
               (!held.if_used || implied.at_minimum.contains(*held.if_used));
      });
      require(rule != rules_.rules.end(), here + "no rule '" + name + "' of that sign holds");
      const auto r = static_cast<std::size_t>(rule - rules_.rules.begin());
      require(weight != 0 && weights.emplace(r, weight).second,
              here + "the rule '" + name + "' counts twice or not at all");
      bound += weight * rule->limit;
    }
    for (std::size_t j = 0; j < rules_.materials.size(); ++j) {
      if (implied.out.contains(j)) continue;
      stop_();
      Integer left = by_cost ? Integer(scaled_[j].back() * shared) : Integer(0);
      for (const auto& [r, weight] : weights)
        left -= numerator(weight) * (shared / denominator(weight)) * scaled_[j][r];
      require(left >= 0, here + "the rules count '" + rules_.materials[j] + "' for too much");
    }
    require(bound == number(one.bound, here + "the bound", shared),
            here + "the rules give another bound");
    require(by_cost || bound > 0, here + "the rules do not contradict each other");
    if (by_cost) lowest_ = std::min(lowest_, bound);
  }

  const Proof& proof_;
  const StopCheck& stop_;
  Rules rules_;
  Rational cost_ = 0;
  Rational lowest_ = 0;                         ///< of the blend's cost and the bounds
  std::vector<std::vector<Integer>> scaled_{};  ///< by column, along the rules, the cost last
};

}  // namespace

Verification verify(const Proof& proof, const Scenario& scenario, const SolveOptions& limits) {
  try {
    const auto stop = base::stop_check_until(base::deadline_after(limits.time_limit), limits.stop);
    return {Checker(proof, scenario, stop).check(limits.progress), {}};
  } catch (const std::string& why) {
    return {ProofVerdict::not_proved, why};
  } catch (const base::Interrupted&) {
    const bool asked = limits.stop.stop_requested();
    return {ProofVerdict::stopped, asked ? "stopped on request" : "the time limit was reached",
            asked ? StopCause::cancelled : StopCause::time_limit};
  }
}

}  // namespace leastwise
