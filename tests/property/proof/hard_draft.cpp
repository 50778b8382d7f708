#include "property/proof/hard_draft.hpp"

#include <leastwise/formulate.hpp>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "support/random.hpp"

namespace leastwise::support {
namespace {

/// `value` with so many significant digits.
double short_of(double value, int digits) {
  char text[40];
  std::snprintf(text, sizeof text, "%.*e", digits - 1, value);
  return std::strtod(text, nullptr);
}

/// Draws one question. All names are made up: `p7` is the seventh property of the goods.
class HardDrawing {
 public:
  HardDrawing(std::uint64_t seed, Hardship hardship) : random_(seed), hardship_(hardship) {
    const bool large = hardship == Hardship::large;
    goods_ = large ? 400 : static_cast<std::size_t>(random_.whole(3, 36));
    properties_ = large ? 50 : static_cast<std::size_t>(random_.whole(2, 12));
    exact_ = hardship == Hardship::degenerate || hardship == Hardship::equal_prices ||
             hardship == Hardship::either_or;
    per_tonne_ = random_.chance(0.4);
    draft_.title = "hard question " + std::to_string(seed);
    draft_.currency = "USD";
  }

  ScenarioDraft draw() {
    draw_contents();
    draw_hidden_blend();
    draw_goods();
    for (std::size_t p = 0; p < properties_; ++p) draw_limit(p);
    if (draft_.rates_kg_per_ha.empty() && draft_.grade_percent.empty()) add_limit(0, {.max = 100});
    if (!per_tonne_) draw_total();
    draw_ratios();
    if (hardship_ == Hardship::either_or) draw_either_or();
    if (hardship_ == Hardship::barely_impossible) push_to_the_brink();
    return std::move(draft_);
  }

 private:
  [[nodiscard]] static std::string property(std::size_t p) { return "p" + std::to_string(p); }

  void draw_contents() {
    content_.assign(goods_, std::vector<double>(properties_, 0.0));
    for (std::size_t p = 0; p < properties_; ++p) {
      const double density = random_.between(0.3, 1);
      double largest = exact_ ? 60 : short_of(random_.between(1, 90), 3);
      if (hardship_ == Hardship::parts_per_million) largest *= std::pow(10, -random_.whole(0, 6));
      const bool twin = hardship_ == Hardship::nearly_parallel && p % 2 == 1;
      for (std::size_t i = 0; i < goods_; ++i) {
        if (twin) {
          const double drift = random_.between(-1e-6, 1e-6) * random_.whole(1, 100);
          content_[i][p] = short_of(content_[i][p - 1] * (1 + drift), 10);
        } else if (random_.chance(density) || i == p) {
          content_[i][p] = exact_
                               ? random_.whole(1, static_cast<int>(largest))
                               : short_of(largest * random_.between(0.02, 1), random_.whole(1, 5));
        }
      }
    }
  }

  void draw_hidden_blend() {
    kg_.assign(goods_, 0.0);
    const auto used = static_cast<std::size_t>(
        random_.whole(1, static_cast<int>(std::min(goods_, properties_ + 2))));
    for (std::size_t k = 0; k < used; ++k)
      kg_[random_.index(goods_)] =
          exact_ ? 10 * random_.whole(1, 30) : short_of(random_.between(1, 300), 4);
    for (const double kg : kg_) total_ += kg;
    if (!per_tonne_) return;
    if (!exact_) {
      for (double& kg : kg_) kg *= 1000 / total_;
    } else {  // whole kilograms: the first good makes up the tonne
      for (double& kg : kg_) kg = std::floor(kg * 900 / total_);
      kg_[0] += 1000 - sum(kg_);
    }
    total_ = 1000;
  }
  [[nodiscard]] static double sum(const std::vector<double>& values) {
    double s = 0;
    for (const double v : values) s += v;
    return s;
  }

  void draw_goods() {
    for (std::size_t i = 0; i < goods_; ++i) {
      MaterialDraft good;
      good.name = "good-" + std::to_string(i);
      good.form = Form::granule;
      good.contains_percent.emplace();
      for (std::size_t p = 0; p < properties_; ++p)
        if (content_[i][p] > 0) good.contains_percent->push_back({property(p), content_[i][p]});
      good.price_per_t = price();
      if (random_.chance(hardship_ == Hardship::large ? 0.02 : 0.15)) {
        const double share = 100 * kg_[i] / total_;
        if (exact_ && per_tonne_)
          good.share_percent = Limits{.max = kg_[i] / 10};
        else
          good.share_percent = Limits{.max = short_of(std::min(100.0, share + 5), 3)};
      }
      draft_.materials.push_back(std::move(good));
    }
  }
  [[nodiscard]] double price() {
    if (hardship_ == Hardship::equal_prices) return 300;
    if (hardship_ == Hardship::wild_prices)
      return short_of(std::pow(10, random_.between(-3, 6)), random_.whole(1, 6));
    if (hardship_ == Hardship::degenerate) return 10 * random_.whole(1, 40);
    return short_of(random_.between(40, 2000), 4);
  }

  [[nodiscard]] double reached(std::size_t p) const {
    double amount = 0;
    for (std::size_t i = 0; i < goods_; ++i) amount += content_[i][p] * kg_[i];
    return per_tonne_ ? amount / 1000 : amount / 100;
  }
  void add_limit(std::size_t p, const Limits& limits) {
    (per_tonne_ ? draft_.grade_percent : draft_.rates_kg_per_ha).push_back({property(p), limits});
  }
  void draw_limit(std::size_t p) {
    const double there = reached(p);
    const bool first = p == 0 && !per_tonne_;  // a rate with a minimum, so that something is asked
    const double lot = first ? 0.3 : random_.between(0, 1);
    if (there <= 0) {
      if (first) add_limit(p, {.min = 1});
      return;
    }
    // With whole contents and kilograms the limits are met exactly, all in one point.
    const double below =
        exact_ ? short_of(there, 12) : short_of(there * random_.between(0.8, 1), 6);
    const double above =
        exact_ ? short_of(there, 12) : short_of(there * random_.between(1, 1.3), 6);
    if (exact_ && lot < 0.25)
      add_limit(p, {.min = below, .max = below});
    else if (lot < 0.65)
      add_limit(p, {.min = below});
    else if (lot < 0.8)
      add_limit(p, {.max = std::min(above, per_tonne_ ? 100.0 : above)});
    else
      add_limit(
          p, {.min = below, .max = std::max(below, std::min(above, per_tonne_ ? 100.0 : above))});
  }

  void draw_total() {
    if (random_.chance(0.3)) return;
    Limits total;
    total.max = exact_ ? total_ : short_of(total_ * random_.between(1, 1.2), 5);
    if (random_.chance(0.4)) total.min = exact_ ? total_ : short_of(total_ * 0.8, 5);
    draft_.total_kg_per_ha = total;
  }

  void draw_ratios() {
    const int count = hardship_ == Hardship::large ? 9 : random_.whole(0, 2);
    for (int k = 0; k < count; ++k) {
      const std::size_t a = random_.index(properties_);
      const std::size_t b = random_.index(properties_);
      if (a == b || reached(a) <= 0 || reached(b) <= 0) continue;
      const double there = reached(a) / reached(b);
      const double limit = short_of(there * random_.between(0.7, 0.99), 4);
      draft_.ratios.push_back({property(a), property(b), {.min = limit}});
    }
  }

  /// Limits coincide: what is there is the minimum, the maximum and all the bins there are.
  void draw_either_or() {
    int used = 0;
    for (const double kg : kg_) used += kg > 0 ? 1 : 0;
    if (random_.chance(0.7)) draft_.bins = std::max(1, used - (random_.chance(0.3) ? 1 : 0));
    for (std::size_t i = 0; i < goods_; ++i) {
      if (!random_.chance(0.3)) continue;
      const double share = per_tonne_ ? kg_[i] / 10 : short_of(90 * kg_[i] / total_, 3);
      draft_.materials[i].min_if_used_percent = share > 0 ? share : 5;
      const auto& most = draft_.materials[i].share_percent;
      if (most && most->max < *draft_.materials[i].min_if_used_percent)
        draft_.materials[i].min_if_used_percent = most->max;
    }
    for (std::size_t i = 1; i < goods_; ++i) {
      const std::size_t j = random_.index(i);
      if ((kg_[i] > 0 && kg_[j] > 0) || !random_.chance(0.3)) continue;
      draft_.incompatible.emplace_back("good-" + std::to_string(j), "good-" + std::to_string(i));
    }
  }

  /// Finds how far a minimum can be raised, and sets it a millionth beyond or within.
  void push_to_the_brink() {
    auto& targets = per_tonne_ ? draft_.grade_percent : draft_.rates_kg_per_ha;
    const auto target = std::ranges::find_if(
        targets, [](const TargetDraft& t) { return t.limits.min > 0 && !t.limits.has_max(); });
    if (target == targets.end()) return;
    if (!per_tonne_ && !draft_.total_kg_per_ha)
      draft_.total_kg_per_ha = Limits{.max = short_of(total_ * 1.1, 4)};
    const auto possible = [&](double limit) {
      target->limits.min = limit;
      return formulate(Scenario(draft_), {.intervals = false}).status() == Status::optimal;
    };
    const double start = target->limits.min;
    double low = start;
    double high = per_tonne_ ? 100 : start * 1000;
    if (!possible(low) || possible(high)) {
      target->limits.min = start;
      return;
    }
    while (high - low > 1e-9 * high) {
      const double middle = (low + high) / 2;
      (possible(middle) ? low : high) = middle;
    }
    target->limits.min = short_of(low * (random_.chance(0.7) ? 1 + 1e-6 : 1 - 1e-6), 12);
  }

  Random random_;
  Hardship hardship_;
  std::size_t goods_ = 0;
  std::size_t properties_ = 0;
  bool exact_ = false;
  bool per_tonne_ = false;
  std::vector<std::vector<double>> content_{};  ///< percent, by good and property
  std::vector<double> kg_{};
  double total_ = 0;
  ScenarioDraft draft_{};
};

}  // namespace

Hardship hardship_of(std::uint64_t seed) {
  if (seed % 200 == 199) return Hardship::large;
  return static_cast<Hardship>(seed % (kinds_of_hardship - 1));
}

std::string_view to_string(Hardship hardship) {
  switch (hardship) {
    case Hardship::degenerate:
      return "degenerate";
    case Hardship::nearly_parallel:
      return "nearly parallel rules";
    case Hardship::parts_per_million:
      return "parts per million";
    case Hardship::wild_prices:
      return "wild prices";
    case Hardship::barely_impossible:
      return "barely impossible";
    case Hardship::equal_prices:
      return "equal prices";
    case Hardship::either_or:
      return "either-or";
    case Hardship::large:
      break;
  }
  return "large";
}

ScenarioDraft hard_draft(std::uint64_t seed) { return hard_draft(seed, hardship_of(seed)); }

ScenarioDraft hard_draft(std::uint64_t seed, Hardship hardship) {
  return HardDrawing(seed, hardship).draw();
}

}  // namespace leastwise::support
