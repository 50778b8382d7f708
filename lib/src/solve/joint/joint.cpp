#include "solve/joint/joint.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "model/join.hpp"
#include "scenario/units.hpp"
#include "solve/answer_parts.hpp"
#include "solve/audit.hpp"
#include "solve/conflict/conflict.hpp"
#include "solve/joint/named_rule.hpp"
#include "solver/certificate.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {
namespace {

/// kg per hectare that one unit of a column of `part` stands for.
double per_hectare(const Part& part) {
  return part.product_kg_per_ha ? *part.product_kg_per_ha / kg_per_tonne : 1.0;
}

/// What one kg of material `i` brings to a common rate.
double brought(const Scenario& scenario, const Common& common, std::size_t i) {
  if (common.nutrient.empty()) return scenario.mass_factor(i);
  return content_percent(scenario.materials()[i], common.nutrient) / 100;
}

/// What part `p` brings to a common rate.
model::Link::Term term_of(const Part& part, std::size_t p, const model::Model& model,
                          const Common& common) {
  model::Link::Term term{p, {}};
  for (std::size_t j = 0; j < model.material_of.size(); ++j) {
    if (model.material_of[j] < 0) continue;
    const auto i = static_cast<std::size_t>(model.material_of[j]);
    const double value = brought(*part.scenario, common, i) * per_hectare(part);
    if (value != 0) term.entries.push_back({static_cast<int>(j), value});
  }
  return term;
}

model::Link link_of(std::span<const Part> parts, std::span<const model::Model> models,
                    const Common& common) {
  model::Link link;
  for (const auto& added : common.members) {
    model::Link::Member member;
    for (const std::size_t p : added)
      member.terms.push_back(term_of(parts[p], p, models[p], common));
    link.members.push_back(std::move(member));
  }
  return link;
}

/// The joint model of some parts and what is common to them.
class Question {
 public:
  Question(std::span<const Part> parts, std::span<const Common> commons)
      : parts_(parts.begin(), parts.end()), commons_(commons.begin(), commons.end()) {
    std::vector<double> weights;
    for (const auto& part : parts_) {
      models_.push_back(model::build(*part.scenario));
      weights.push_back(part.hectares * per_hectare(part));
    }
    std::vector<model::Link> links;
    for (const auto& common : commons_) links.push_back(link_of(parts_, models_, common));
    joined_ = model::join(models_, weights, links);
  }

  [[nodiscard]] const model::Model& model() const { return joined_.model; }
  [[nodiscard]] std::vector<double> kg_of_part(std::size_t p, const std::vector<double>& x) const {
    std::vector<double> kg(parts_[p].scenario->materials().size(), 0.0);
    const auto& model = models_[p];
    const auto first = static_cast<std::size_t>(joined_.blocks[p].column);
    for (std::size_t j = 0; j < model.material_of.size(); ++j)
      if (model.material_of[j] >= 0)
        kg[static_cast<std::size_t>(model.material_of[j])] = x[first + j];
    return kg;
  }
  [[nodiscard]] std::vector<JointRule> named(const std::vector<Constraint>& constraints,
                                             const solver::SearchOptions& search) const;
  /// The parts and common rates that `constraints` speak of, and nothing else.
  [[nodiscard]] std::pair<std::vector<std::size_t>, std::vector<std::size_t>> involved(
      const std::vector<Constraint>& constraints) const;

 private:
  [[nodiscard]] bool is_link(const Constraint& constraint) const {
    return constraint.kind == Constraint::Kind::rule && constraint.index >= joined_.first_link;
  }
  /// The common rate a link's rule belongs to.
  [[nodiscard]] std::size_t common_of(const Constraint& constraint) const {
    std::size_t end = joined_.first_link;
    for (std::size_t c = 0; c < commons_.size(); ++c) {
      end += commons_[c].members.size();
      if (constraint.index < end) return c;
    }
    return 0;
  }
  [[nodiscard]] std::vector<std::size_t> linked_parts(const Constraint& constraint) const {
    std::size_t offset = constraint.index - joined_.first_link;
    for (const auto& common : commons_) {
      if (offset < common.members.size()) return common.members[offset];
      offset -= common.members.size();
    }
    return {};
  }
  [[nodiscard]] ConflictingRule rule_of(std::size_t part, const Constraint& constraint,
                                        const std::vector<Constraint>& conflict,
                                        const solver::SearchOptions& search) const;

  std::vector<Part> parts_;
  std::vector<Common> commons_;
  std::vector<model::Model> models_{};
  model::Joined joined_{};
};

ConflictingRule Question::rule_of(std::size_t part, const Constraint& constraint,
                                  const std::vector<Constraint>& conflict,
                                  const solver::SearchOptions& search) const {
  constexpr bool in_trial = true;
  return named_rule(joined_, {*parts_[part].scenario, models_[part], part, in_trial}, conflict,
                    constraint, search);
}

std::vector<JointRule> Question::named(const std::vector<Constraint>& constraints,
                                       const solver::SearchOptions& search) const {
  std::vector<JointRule> rules;
  std::vector<char> said(commons_.size(), 0);
  for (const auto& constraint : constraints) {
    if (is_link(constraint)) {
      const std::size_t common = common_of(constraint);
      if (said[common]) continue;
      said[common] = 1;
      rules.push_back({{}, {}, common});
      continue;
    }
    const std::size_t part = block_of(joined_, constraint);
    auto rule = rule_of(part, constraint, constraints, search);
    // `exactly` on a nutrient with reduced availability is two rows of one rule.
    const bool again = std::ranges::any_of(rules, [&](const JointRule& other) {
      return other.part == part && other.rule.id == rule.id;
    });
    if (!again) rules.push_back({part, std::move(rule), 0});
  }
  // Own rules by part, what is held at the end.
  std::ranges::stable_sort(rules, [](const JointRule& a, const JointRule& b) {
    return a.part.value_or(~std::size_t{0}) < b.part.value_or(~std::size_t{0});
  });
  return rules;
}

std::pair<std::vector<std::size_t>, std::vector<std::size_t>> Question::involved(
    const std::vector<Constraint>& constraints) const {
  std::vector<char> part(parts_.size(), 0);
  std::vector<char> common(commons_.size(), 0);
  for (const auto& constraint : constraints) {
    if (!is_link(constraint)) {
      part[block_of(joined_, constraint)] = 1;
      continue;
    }
    for (const std::size_t p : linked_parts(constraint)) part[p] = 1;
    common[common_of(constraint)] = 1;
  }
  std::pair<std::vector<std::size_t>, std::vector<std::size_t>> found;
  for (std::size_t p = 0; p < part.size(); ++p)
    if (part[p]) found.first.push_back(p);
  for (std::size_t c = 0; c < common.size(); ++c)
    if (common[c]) found.second.push_back(c);
  return found;
}

/// Names the rules that contradict one another. The account is given on the few parts it takes,
/// which are a small question of their own.
void explain(std::span<const Part> parts, std::span<const Common> commons, const Question& question,
             const solver::SearchOptions& search, JointAnswer& answer) {
  const auto first = irreducible_conflict(question.model(), search);
  const auto [few_parts, few_commons] = question.involved(first.constraints);
  std::vector<Part> some_parts;
  for (const std::size_t p : few_parts) some_parts.push_back(parts[p]);
  std::vector<Common> some_commons;
  std::vector<std::size_t> kept_commons;
  for (const std::size_t c : few_commons) {
    Common common{commons[c].nutrient, {}};
    for (const auto& member : commons[c].members) {
      std::vector<std::size_t> kept;
      for (const std::size_t p : member) {
        const auto at = std::ranges::find(few_parts, p);
        if (at != few_parts.end()) kept.push_back(static_cast<std::size_t>(at - few_parts.begin()));
      }
      if (kept.size() == member.size()) common.members.push_back(std::move(kept));
    }
    if (common.members.size() < 2) continue;
    some_commons.push_back(std::move(common));
    kept_commons.push_back(c);
  }
  const Question small(some_parts, some_commons);
  const auto again = irreducible_conflict(small.model(), search);
  answer.irreducible = again.irreducible;
  answer.conflict = small.named(again.constraints, search);
  for (auto& rule : answer.conflict) {
    if (rule.part)
      rule.part = few_parts[*rule.part];
    else
      rule.common = kept_commons[rule.common];
  }
}

double rate_of(const Part& part, const Common& common, const std::vector<double>& kg) {
  double rate = 0;
  for (std::size_t i = 0; i < kg.size(); ++i) rate += brought(*part.scenario, common, i) * kg[i];
  return rate * per_hectare(part);
}

/// Holds the amounts against every scenario and every common rate, by the scenarios' own numbers.
bool confirmed(std::span<const Part> parts, std::span<const Common> commons,
               const std::vector<std::vector<double>>& kg, JointAnswer& answer) {
  for (std::size_t p = 0; p < parts.size(); ++p)
    if (audit(*parts[p].scenario, kg[p]) > solver::certificate_tolerance) return false;
  for (const auto& common : commons) {
    const auto sum_of = [&](const std::vector<std::size_t>& member) {
      double sum = 0;
      for (const std::size_t p : member) sum += rate_of(parts[p], common, kg[p]);
      return sum;
    };
    const double rate = sum_of(common.members.front());
    answer.rates.push_back(rate);
    for (const auto& member : common.members) {
      const double miss = std::fabs(sum_of(member) - rate);
      if (miss > solver::certificate_tolerance * std::max(1.0, rate)) return false;
    }
  }
  return true;
}

void take_blends(std::span<const Part> parts, std::span<const Common> commons,
                 const Question& question, const solver::SearchResult& found, JointAnswer& answer) {
  std::vector<std::vector<double>> kg;
  for (std::size_t p = 0; p < parts.size(); ++p) kg.push_back(question.kg_of_part(p, found.x));
  if (!confirmed(parts, commons, kg, answer)) {
    answer.rates.clear();
    return;
  }
  answer.status = Status::optimal;
  answer.cost = found.cost;
  answer.certificate = {found.primal_violation, found.dual_violation,
                        (found.cost - found.lower_bound) / std::max(1.0, std::fabs(found.cost)),
                        found.nodes};
  for (std::size_t p = 0; p < parts.size(); ++p) {
    answer.blends.push_back(blend_of(*parts[p].scenario, kg[p]));
    answer.blends.back().certificate = answer.certificate;
  }
}

}  // namespace

JointAnswer formulate_together(std::span<const Part> parts, std::span<const Common> commons,
                               const SolveOptions& options) {
  const auto search = counted_search_options(options);
  const Question question(parts, commons);
  const auto found = solver::search(question.model(), search);
  JointAnswer answer;
  answer.detail =
      "the solver's answer could not be confirmed from the scenarios' own numbers, so none is "
      "given";
  switch (found.status) {
    case solver::SearchStatus::optimal:
      take_blends(parts, commons, question, found, answer);
      break;
    case solver::SearchStatus::infeasible:
      answer.status = Status::infeasible;
      explain(parts, commons, question, search, answer);
      break;
    case solver::SearchStatus::time_limit:
      answer.cause = StopCause::time_limit;
      answer.detail = "the time limit was reached before the treatments were solved together";
      break;
    case solver::SearchStatus::cancelled:
      answer.cause = StopCause::cancelled;
      answer.detail = "stopped on request before the treatments were solved together";
      break;
    case solver::SearchStatus::failed:
      break;
  }
  if (answer.status != Status::stopped) answer.detail.clear();
  return answer;
}

}  // namespace leastwise::solve
