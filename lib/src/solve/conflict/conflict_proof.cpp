#include "solve/conflict/conflict_proof.hpp"

#include <algorithm>
#include <cmath>

#include "solver/branching.hpp"
#include "solver/certificate.hpp"

namespace leastwise::solve {
namespace {

using solver::Decision;

/// Which bounds of the columns, and which rows, one leaf of the proof leans on.
struct Leaning {
  std::vector<char> lower{};
  std::vector<char> upper{};
  std::vector<double> row{};  ///< above zero: on its minimum; below: on its maximum
};

class ConstraintCollector {
 public:
  explicit ConstraintCollector(const model::Model& model)
      : model_(model),
        branching_(model),
        data_(solver::relaxation(model)),
        rules_(model.rules.size(), 0),
        minima_(model.minima.size(), 0),
        apart_(model.apart.size(), 0) {
    std::fill(data_.cost.begin(), data_.cost.end(), 0.0);
  }

  void add(const solver::Leaf& leaf);
  [[nodiscard]] std::vector<Constraint> found() const;

 private:
  [[nodiscard]] Leaning contradiction(const std::vector<double>& y) const;
  [[nodiscard]] Leaning crossed_bounds(const std::vector<Decision>& path) const;
  void add_rules(const Leaning& leaning);
  void add_decision(const Decision& decision, const Leaning& leaning);
  [[nodiscard]] bool keeps_out(int family, const Leaning& leaning) const;
  [[nodiscard]] bool taken(const Constraint& constraint) const;
  [[nodiscard]] Leaning none() const {
    const auto columns = static_cast<std::size_t>(model_.columns);
    return {std::vector<char>(columns, 0), std::vector<char>(columns, 0),
            std::vector<double>(static_cast<std::size_t>(model_.rows), 0.0)};
  }

  const model::Model& model_;
  solver::Branching branching_;
  solver::LinearProgram data_;  ///< without costs
  std::vector<char> rules_;
  std::vector<char> minima_;
  std::vector<char> apart_;
  bool bins_ = false;
};

void ConstraintCollector::add(const solver::Leaf& leaf) {
  const auto leaning =
      leaf.multipliers.empty() ? crossed_bounds(leaf.path) : contradiction(leaf.multipliers);
  add_rules(leaning);
  for (const auto& decision : leaf.path) add_decision(decision, leaning);
}

/// `y` adds the rows up to more than the columns can give within their bounds.
Leaning ConstraintCollector::contradiction(const std::vector<double>& y) const {
  auto leaning = none();
  double largest = 0;
  for (const double weight : y) largest = std::max(largest, std::fabs(weight));
  const auto reduced = solver::reduced_costs(data_, y);  // below zero: the rows pull it up
  for (std::size_t j = 0; j < reduced.size(); ++j) {
    leaning.upper[j] = reduced[j] < -1e-12 * largest;
    leaning.lower[j] = reduced[j] > 1e-12 * largest;
  }
  for (std::size_t i = 0; i < y.size(); ++i)
    if (std::fabs(y[i]) > 1e-9 * largest) leaning.row[i] = y[i];
  return leaning;
}

/// The decisions of `path` leave a column no amount at all; where they exceed the bins, none does.
Leaning ConstraintCollector::crossed_bounds(const std::vector<Decision>& path) const {
  auto leaning = none();
  solver::NodeBounds bounds;
  branching_.apply(path, bounds);
  for (std::size_t j = 0; j < bounds.lower.size(); ++j)
    if (bounds.lower[j] > bounds.upper[j]) {
      leaning.lower[j] = leaning.upper[j] = 1;
      break;  // one is enough
    }
  return leaning;
}

void ConstraintCollector::add_rules(const Leaning& leaning) {
  for (std::size_t r = 0; r < rules_.size(); ++r) {
    const auto& rule = model_.rules[r];
    bool on_minimum = false;
    bool on_maximum = false;
    if (rule.row >= 0) {
      on_minimum = leaning.row[static_cast<std::size_t>(rule.row)] > 0;
      on_maximum = leaning.row[static_cast<std::size_t>(rule.row)] < 0;
    } else {
      on_minimum = leaning.lower[static_cast<std::size_t>(rule.column)] != 0;
      on_maximum = leaning.upper[static_cast<std::size_t>(rule.column)] != 0;
    }
    if ((on_minimum && rule.side != RuleSide::max) || (on_maximum && rule.side != RuleSide::min))
      rules_[r] = 1;
  }
}

/// A branch in which something may be left out is free to be taken. The other one, in which an
/// either-or rule then asks for more, rests on that rule if the leaf leans on what it asks.
void ConstraintCollector::add_decision(const Decision& decision, const Leaning& leaning) {
  switch (decision.kind) {
    case Decision::Kind::neighbours_out:
      for (std::size_t k = 0; k < apart_.size(); ++k) {
        const auto& apart = model_.apart[k];
        if ((apart.family_a == decision.index && keeps_out(apart.family_b, leaning)) ||
            (apart.family_b == decision.index && keeps_out(apart.family_a, leaning)))
          apart_[k] = 1;
      }
      break;
    case Decision::Kind::column_on:
      for (std::size_t k = 0; k < minima_.size(); ++k) {
        const auto& minimum = model_.minima[k];
        if (minimum.column != decision.index) continue;
        if (minimum.row >= 0 ? leaning.row[static_cast<std::size_t>(minimum.row)] != 0
                             : leaning.lower[static_cast<std::size_t>(minimum.column)] != 0)
          minima_[k] = 1;
      }
      break;
    case Decision::Kind::group_in:
    case Decision::Kind::column_in:
      bins_ = true;
      break;
    case Decision::Kind::family_out:
    case Decision::Kind::column_out:
    case Decision::Kind::group_out:
      break;
  }
}

bool ConstraintCollector::keeps_out(int family, const Leaning& leaning) const {
  const auto& columns = model_.families[static_cast<std::size_t>(family)];
  return std::any_of(columns.begin(), columns.end(),
                     [&](int j) { return leaning.upper[static_cast<std::size_t>(j)] != 0; });
}

bool ConstraintCollector::taken(const Constraint& constraint) const {
  switch (constraint.kind) {
    case Constraint::Kind::rule:
      return rules_[constraint.index] != 0;
    case Constraint::Kind::minimum_if_used:
      return minima_[constraint.index] != 0;
    case Constraint::Kind::apart:
      return apart_[constraint.index] != 0;
    case Constraint::Kind::bins:
      return bins_;
  }
  return true;
}

std::vector<Constraint> ConstraintCollector::found() const {
  std::vector<Constraint> found;
  for (const auto& constraint : constraints_of(model_))
    if (taken(constraint)) found.push_back(constraint);
  return found;
}

}  // namespace

std::vector<Constraint> in_farkas_support(const model::Model& model,
                                          const std::vector<solver::Leaf>& leaves) {
  ConstraintCollector collector(model);
  for (const auto& leaf : leaves) collector.add(leaf);
  return collector.found();
}

}  // namespace leastwise::solve
