#include "support/peers/mixed_integer.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace leastwise::support {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

Row normalised(Row row) {
  double largest = 0;
  for (const auto& entry : row.entries) largest = std::max(largest, std::fabs(entry.second));
  if (largest == 0) return row;
  for (auto& entry : row.entries) entry.second /= largest;
  row.lower /= largest;
  row.upper /= largest;
  return row;
}

/// The most of material `i` that any single rule lets in when the product is at most `cap`.
double amount_bound(const Reading& reading, std::size_t i, double cap) {
  double bound = cap / reading.mass[i];
  for (const LinearRule& rule : reading.rules) {
    const double own = rule.coefficient[i];
    if (own <= 0 || !std::isfinite(rule.upper)) continue;
    // own x_i <= upper - (everything else); the rest weighs at most cap and helps at most by its
    // most negative coefficient per kg of product.
    double help = 0;
    for (std::size_t k = 0; k < reading.size(); ++k)
      if (reading.enters[k]) help = std::max(help, -rule.coefficient[k] / reading.mass[k]);
    bound = std::min(bound, (rule.upper + help * cap) / (own + help * reading.mass[i]));
  }
  return std::max(0.0, bound);
}

class Writer {
 public:
  Writer(const Reading& reading, double cap) : reading_(reading) {
    program_.amounts = reading.size();
    program_.total_cap = cap;
  }

  MixedInteger write(bool either_or) {
    for (std::size_t i = 0; i < reading_.size(); ++i)
      program_.columns.push_back({0, reading_.enters[i] ? infinity : 0, reading_.cost_per_kg[i]});
    for (const LinearRule& rule : reading_.rules) add_rule(rule);
    if (either_or) {
      add_families();
      add_materials();
    }
    return std::move(program_);
  }

 private:
  void add(Row row) {
    if (!row.entries.empty()) program_.rows.push_back(normalised(std::move(row)));
  }

  void add_rule(const LinearRule& rule) {
    Row row{{}, rule.lower, rule.upper};
    for (std::size_t i = 0; i < reading_.size(); ++i)
      if (reading_.enters[i] && rule.coefficient[i] != 0)
        row.entries.emplace_back(static_cast<int>(i), rule.coefficient[i]);
    if (row.entries.empty() && (rule.lower > 0 || rule.upper < 0)) {
      // Nothing can meet it: a column held at 0 that must be 1 says so to every solver.
      program_.columns[0].upper = 0;
      row = {{{0, 1.0}}, 1, infinity};
    }
    add(row);
  }

  int add_binary() {
    program_.columns.push_back({0, 1, 0, true});
    return static_cast<int>(program_.columns.size()) - 1;
  }

  void switch_on(std::size_t material, int binary) {
    const double bound = amount_bound(reading_, material, program_.total_cap);
    add({{{static_cast<int>(material), 1.0}, {binary, -bound}}, -infinity, 0});
  }

  void add_families() {
    std::map<std::vector<std::size_t>, int> binary_of;
    for (const Apart& apart : reading_.apart) {
      for (const auto* family : {&apart.first, &apart.second}) {
        if (binary_of.count(*family) != 0) continue;
        const int binary = add_binary();
        binary_of[*family] = binary;
        for (const std::size_t i : *family) switch_on(i, binary);
      }
      add({{{binary_of[apart.first], 1.0}, {binary_of[apart.second], 1.0}}, -infinity, 1});
    }
  }

  void add_materials() {
    Row count{{}, -infinity, static_cast<double>(reading_.bins)};
    for (std::size_t i = 0; i < reading_.size(); ++i) {
      const bool counted = reading_.bins > 0 && reading_.granule[i];
      const double least = reading_.minimum_if_used[i];
      if (!reading_.enters[i] || !(counted || least > 0)) continue;
      const int binary = add_binary();
      switch_on(i, binary);
      if (counted) count.entries.emplace_back(binary, 1.0);
      if (least > 0) add_least(i, binary, least);
    }
    if (reading_.bins > 0) add(count);
  }

  /// x >= least * T when the switch is on. Per tonne T is known; per hectare the row is slackened
  /// by least * cap, the most its right side can be, when the switch is off.
  void add_least(std::size_t i, int binary, double least) {
    if (reading_.basis == Basis::per_tonne) {
      add({{{static_cast<int>(i), 1.0}, {binary, -least * 1000}}, 0, infinity});
      return;
    }
    const double slack = least * program_.total_cap;
    Row row{{{binary, -slack}}, -slack, infinity};
    for (std::size_t k = 0; k < reading_.size(); ++k)
      if (reading_.enters[k])
        row.entries.emplace_back(static_cast<int>(k), (k == i ? 1 : 0) - least * reading_.mass[k]);
    add(row);
  }

  const Reading& reading_;
  MixedInteger program_;
};

}  // namespace

MixedInteger mixed_integer(const Reading& reading, double total_cap) {
  return Writer(reading, total_cap).write(true);
}

MixedInteger relaxation(const Reading& reading) { return Writer(reading, 0).write(false); }

std::optional<double> bounded_total(const Reading& reading) {
  if (reading.basis == Basis::per_tonne) return 1000;
  for (const LinearRule& rule : reading.rules)
    if (rule.coefficient == reading.mass && std::isfinite(rule.upper)) return rule.upper;
  return {};
}

PeerAnswer cheapest_with(const Reading& reading, const std::vector<char>& used) {
  Reading restricted = reading;
  restricted.apart.clear();
  restricted.bins = 0;
  for (std::size_t i = 0; i < reading.size(); ++i) {
    if (!used[i]) restricted.enters[i] = 0;
    if (!restricted.enters[i] || reading.minimum_if_used[i] == 0) continue;
    LinearRule rule{least_of(reading.material[i]), std::vector<double>(reading.size()), 0,
                    infinity};
    for (std::size_t k = 0; k < reading.size(); ++k)
      rule.coefficient[k] = (k == i ? 1 : 0) - reading.minimum_if_used[i] * reading.mass[k];
    restricted.rules.push_back(rule);
  }
  return solve_with_glpk(relaxation(restricted), {});
}

PeerAnswer solve_with_peer(const Reading& reading, Peer peer, const PeerOptions& options) {
  const auto solve = [&](double cap) {
    const MixedInteger program = mixed_integer(reading, cap);
    return peer == Peer::cbc ? solve_with_cbc(program, options) : solve_with_glpk(program, options);
  };
  if (const auto total = bounded_total(reading)) return solve(*total);
  double cheapest_kg = infinity;  // currency per kg of product
  for (std::size_t i = 0; i < reading.size(); ++i)
    if (reading.enters[i])
      cheapest_kg = std::min(cheapest_kg, reading.cost_per_kg[i] / reading.mass[i]);
  // A first cap that is generous for a field; then the cost found bounds the total of any cheaper
  // blend, and a second search under that bound settles it.
  double cap = 20000;
  PeerAnswer answer = solve(cap);
  if (answer.status == PeerStatus::infeasible) {
    cap = 1e6;
    answer = solve(cap);
    answer.proven_cap = answer.status != PeerStatus::infeasible;
  }
  if (answer.status != PeerStatus::optimal) return answer;
  const double harmless = answer.cost / cheapest_kg;
  if (!(harmless > cap)) return answer;
  if (harmless > 1e6) {
    answer.proven_cap = false;
    return answer;
  }
  return solve(harmless * 1.001);
}

}  // namespace leastwise::support
