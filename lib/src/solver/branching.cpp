#include "solver/branching.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace leastwise::solver {

using Kind = Decision::Kind;

namespace {

constexpr double last_bits = 1e-14;

void leave_out(const std::vector<int>& columns, NodeBounds& bounds) {
  for (const int j : columns) bounds.upper[static_cast<std::size_t>(j)] = 0;
}

}  // namespace

/// Who holds a bin on a path.
struct Branching::Bins {
  std::vector<char> group_in;   ///< by family
  std::vector<char> column_in;  ///< by column
  std::vector<int> columns_of;  ///< by family: its columns that hold a bin
  int held = 0;
};

Branching::Branching(const model::Model& model)
    : model_(model), neighbours_(model.families.size()), granular_family_(model.families.size()) {
  for (const auto& apart : model.apart) {
    if (!apart.active) continue;
    neighbours_[static_cast<std::size_t>(apart.family_a)].push_back(apart.family_b);
    neighbours_[static_cast<std::size_t>(apart.family_b)].push_back(apart.family_a);
  }
  for (std::size_t f = 0; f < model.families.size(); ++f)
    for (const int j : model.families[f])
      if (model.is_granule[static_cast<std::size_t>(j)]) granular_family_[f].push_back(j);
}

template <class Visit>
void Branching::each_bin_limit(Visit visit) const {
  if (model_.bins)
    visit(model::BinLimit{*model_.bins, 0, static_cast<int>(model_.families.size())});
  for (const auto& limit : model_.joined_bins)
    if (limit.active) visit(limit);
}

Branching::Bins Branching::count_bins(const model::BinLimit& limit,
                                      std::span<const Decision> path) const {
  Bins bins{std::vector<char>(model_.families.size(), 0),
            std::vector<char>(static_cast<std::size_t>(model_.columns), 0),
            std::vector<int>(model_.families.size(), 0), 0};
  for (const auto& decision : path) {
    const auto index = static_cast<std::size_t>(decision.index);
    if (decision.kind == Kind::group_in) bins.group_in[index] = 1;
    if (decision.kind == Kind::column_in) {
      bins.column_in[index] = 1;
      ++bins.columns_of[static_cast<std::size_t>(model_.family_of[index])];
    }
  }
  for (auto f = static_cast<std::size_t>(limit.first_family);
       f < static_cast<std::size_t>(limit.end_family); ++f)
    bins.held += std::max<int>(bins.group_in[f], bins.columns_of[f]);
  return bins;
}

void Branching::apply(std::span<const Decision> path, NodeBounds& bounds) const {
  bounds.lower = model_.column_lower;
  bounds.upper = model_.column_upper;
  bounds.minimum_on.assign(model_.minima.size(), 0);
  bounds.contradictory = false;
  for (const auto& decision : path) take(decision, bounds);
  each_bin_limit([&](const model::BinLimit& limit) { close_full_bins(limit, path, bounds); });
  for (std::size_t j = 0; j < bounds.lower.size(); ++j) {
    // Two ways to say the same amount may differ in their last bit.
    if (bounds.lower[j] > bounds.upper[j] && bounds.lower[j] <= bounds.upper[j] * (1 + last_bits))
      bounds.lower[j] = bounds.upper[j];
    if (bounds.lower[j] > bounds.upper[j]) bounds.contradictory = true;
  }
}

void Branching::take(const Decision& decision, NodeBounds& bounds) const {
  const auto index = static_cast<std::size_t>(decision.index);
  switch (decision.kind) {
    case Kind::family_out:
      leave_out(model_.families[index], bounds);
      break;
    case Kind::neighbours_out:
      for (const int f : neighbours_[index])
        leave_out(model_.families[static_cast<std::size_t>(f)], bounds);
      break;
    case Kind::column_out:
      bounds.upper[index] = 0;
      break;
    case Kind::column_on:
      switch_minima_on(decision.index, bounds);
      break;
    case Kind::group_out:
      leave_out(granular_family_[index], bounds);
      break;
    case Kind::group_in:
    case Kind::column_in:
      break;  // they count against the bins, all together
  }
}

void Branching::switch_minima_on(int column, NodeBounds& bounds) const {
  for (std::size_t k = 0; k < model_.minima.size(); ++k) {
    const auto& minimum = model_.minima[k];
    if (minimum.column != column || !minimum.active) continue;
    bounds.minimum_on[k] = 1;
    auto& lower = bounds.lower[static_cast<std::size_t>(column)];
    if (minimum.row < 0) lower = std::max(lower, minimum.kg);
  }
}

/// Once every bin is held, whatever holds none stays out.
void Branching::close_full_bins(const model::BinLimit& limit, std::span<const Decision> path,
                                NodeBounds& bounds) const {
  const auto bins = count_bins(limit, path);
  if (bins.held > limit.most) bounds.contradictory = true;
  if (bins.held != limit.most) return;
  for (auto f = static_cast<std::size_t>(limit.first_family);
       f < static_cast<std::size_t>(limit.end_family); ++f) {
    if (bins.group_in[f] && bins.columns_of[f] == 0) continue;
    for (const int j : granular_family_[f])
      if (!bins.column_in[static_cast<std::size_t>(j)])
        bounds.upper[static_cast<std::size_t>(j)] = 0;
  }
}

std::optional<std::pair<Decision, Decision>> Branching::branch(
    std::span<const double> x, std::span<const Decision> path) const {
  if (auto choice = branch_families(x)) return choice;
  if (auto choice = branch_minima(x)) return choice;
  std::optional<std::pair<Decision, Decision>> choice;
  each_bin_limit([&](const model::BinLimit& limit) {
    if (!choice) choice = branch_bins(limit, x, path);
  });
  return choice;
}

std::optional<std::pair<Decision, Decision>> Branching::branch_families(
    std::span<const double> x) const {
  std::vector<double> mass(model_.families.size(), 0.0);
  for (std::size_t f = 0; f < mass.size(); ++f)
    for (const int j : model_.families[f]) mass[f] += x[static_cast<std::size_t>(j)];
  int best = -1;
  double best_score = 0;
  double best_against = 0;
  for (std::size_t f = 0; f < mass.size(); ++f) {
    if (mass[f] <= 0) continue;
    double against = 0;
    for (const int g : neighbours_[f]) against += mass[static_cast<std::size_t>(g)];
    const double score = std::min(mass[f], against);
    if (score > best_score) {
      best = static_cast<int>(f);
      best_score = score;
      best_against = against;
    }
  }
  if (best < 0) return std::nullopt;
  const Decision leave{Kind::family_out, best};
  const Decision keep{Kind::neighbours_out, best};
  return mass[static_cast<std::size_t>(best)] < best_against ? std::pair{leave, keep}
                                                             : std::pair{keep, leave};
}

std::optional<std::pair<Decision, Decision>> Branching::branch_minima(
    std::span<const double> x) const {
  int best = -1;
  double best_distance = 0;
  double best_fill = 0;
  for (const auto& minimum : model_.minima) {
    if (!minimum.active) continue;
    const double amount = x[static_cast<std::size_t>(minimum.column)];
    const double needed =
        minimum.total_column < 0
            ? minimum.kg
            : minimum.limit / 100 * x[static_cast<std::size_t>(minimum.total_column)];
    if (amount <= 0 || amount >= needed * (1 - 1e-9)) continue;
    const double distance = std::min(amount, needed - amount);
    if (distance > best_distance) {
      best = minimum.column;
      best_distance = distance;
      best_fill = amount / needed;
    }
  }
  if (best < 0) return std::nullopt;
  const Decision leave{Kind::column_out, best};
  const Decision keep{Kind::column_on, best};
  return best_fill < 0.5 ? std::pair{leave, keep} : std::pair{keep, leave};
}

std::optional<std::pair<Decision, Decision>> Branching::branch_bins(
    const model::BinLimit& limit, std::span<const double> x, std::span<const Decision> path) const {
  const auto in_use = [&](int j) { return x[static_cast<std::size_t>(j)] > 0; };
  const auto bins = count_bins(limit, path);
  int columns = 0;
  int groups = 0;
  int best_group = -1;
  int best_column = -1;
  double best_group_mass = 0;
  double best_column_mass = 0;
  for (auto f = static_cast<std::size_t>(limit.first_family);
       f < static_cast<std::size_t>(limit.end_family); ++f) {
    double mass = 0;
    int members = 0;
    for (const int j : granular_family_[f]) {
      if (!in_use(j)) continue;
      ++members;
      const double amount = x[static_cast<std::size_t>(j)];
      mass += amount;
      if (!bins.column_in[static_cast<std::size_t>(j)] && amount > best_column_mass) {
        best_column = j;
        best_column_mass = amount;
      }
    }
    columns += members;
    if (members > 0) ++groups;
    if (members > 0 && !bins.group_in[f] && bins.columns_of[f] == 0 && mass > best_group_mass) {
      best_group = static_cast<int>(f);
      best_group_mass = mass;
    }
  }
  if (columns <= limit.most) return std::nullopt;
  // While whole chemistries are too many, decide on chemistries; their suppliers come later.
  if (groups > limit.most && best_group >= 0)
    return std::pair{Decision{Kind::group_in, best_group}, Decision{Kind::group_out, best_group}};
  return std::pair{Decision{Kind::column_in, best_column}, Decision{Kind::column_out, best_column}};
}

}  // namespace leastwise::solver
