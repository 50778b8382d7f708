#include "support/rule_drawing.hpp"

#include <algorithm>
#include <cmath>

namespace leastwise::support {
namespace {

/// Three significant digits, as people write limits.
double rounded(double value, double (*how)(double)) {
  if (value <= 0) return 0;
  const double scale = std::pow(10.0, 2 - std::floor(std::log10(value)));
  return how(value * scale) / scale;
}
double down(double value) { return rounded(value, std::floor); }
double up(double value) { return rounded(value, std::ceil); }

}  // namespace

void RuleDrawing::draw() {
  const bool per_hectare = kind_.basis ? *kind_.basis == Basis::per_hectare : random_.chance(0.6);
  if (per_hectare) {
    draw_rates();
    draw_total();
  }
  draw_grades();
  draw_ratios();
  draw_shares();
  if (kind_.either_or) {
    draw_minimum_if_used();
    draw_bins();
  }
  if (kind_.frills) draw_stock();
  if (random_.chance(kind_.sabotage)) sabotage();
  ask_for_micronutrients();
  draw_sums();
  draw_figures();
}

/// Sums of two contents: what lies near seed, or what a grade declares together.
void RuleDrawing::draw_sums() {
  const bool per_hectare = !draft_.rates_kg_per_ha.empty();
  struct Sum {
    const char* name;
    bool at_most;
  };
  for (const Sum& sum : {Sum{"N + K2O", true}, Sum{"P2O5 + K2O", false}, Sum{"N-urea+Cl", true}}) {
    const double percent = percent_in(hidden_, goods_, sum.name, false);
    if (percent < 1 || !random_.chance(0.08)) continue;
    const bool rate = per_hectare && random_.chance(0.7);
    const double there = rate ? percent / 100 * total_kg_per_ha_ : percent;
    Limits limits;
    if (sum.at_most)
      limits.max = up(there * random_.between(1, 1.3));
    else
      limits.min = down(there * random_.between(0.7, 1));
    if (!rate && limits.max > 100 && sum.at_most) continue;
    (rate ? draft_.rates_kg_per_ha : draft_.grade_percent).push_back({sum.name, limits});
  }
}

/// A salt index, and a lime need of either sign, which every good states.
void RuleDrawing::draw_figures() {
  for (const bool lime : {false, true}) {
    if (!random_.chance(0.08)) continue;
    const std::string name = lime ? "lime-need" : "salt-index";
    double there = 0;
    for (std::size_t i = 0; i < goods_.size(); ++i) {
      const double figure = lime ? random_.whole(-80, 80) : random_.whole(0, 120);
      MaterialDraft& good = draft_.materials[i];
      auto& list = good.contains_percent ? good.contains_percent : good.contains_also_percent;
      if (!list) list.emplace();
      list->push_back({name, figure});
      there += figure * hidden_.kg_per_t[i] / 1000;
    }
    const bool rate = lime && !draft_.rates_kg_per_ha.empty() && random_.chance(0.6);
    const double scale = rate ? total_kg_per_ha_ / 100 : 1;
    const double most = std::max(there, 0.0) * random_.between(1, 1.2) + random_.between(0.5, 3);
    (rate ? draft_.rates_kg_per_ha : draft_.grade_percent)
        .push_back({name, {.max = up(most * scale)}});
  }
}

/// Mostly what the hidden blend needs to be let in, so that most scenarios have a blend.
void RuleDrawing::ask_for_micronutrients() {
  struct Most {
    const char* element;
    double unasked;
    double ceiling;
  };
  for (const Most& most :
       {Most{"Zn", 6, 60}, Most{"B", 1.2, 6}, Most{"Mn", 11.3, 90}, Most{"Cu", 1.6, 20}}) {
    const bool per_hectare = !draft_.rates_kg_per_ha.empty();
    auto& targets = per_hectare ? draft_.rates_kg_per_ha : draft_.grade_percent;
    const auto found = std::find_if(targets.begin(), targets.end(), [&](const TargetDraft& t) {
      return t.nutrient == most.element;
    });
    const double percent = percent_in(hidden_, goods_, most.element, true);
    const double scale = per_hectare ? total_kg_per_ha_ / 100 : 1;
    const double all = percent_in(hidden_, goods_, most.element, false) * scale;
    if (percent > 1e-3 && found == targets.end() && random_.chance(0.85)) {
      targets.push_back({most.element, {down(percent * scale * random_.between(0.3, 0.9))}});
    }
    double asked = all;
    for (const auto& rate : draft_.rates_kg_per_ha)
      if (rate.nutrient == most.element) asked = std::max(asked, rate.limits.min);
    if (per_hectare && asked > 0.9 * most.ceiling)
      draft_.confirm_high_rate.emplace_back(most.element);
  }
}

void RuleDrawing::draw_rates() {
  total_kg_per_ha_ = random_.between(90, 550);
  bool first = true;
  for (const char* name : {"N", "P2O5", "K2O", "S", "Mg", "Ca", "Zn", "B", "Mn", "Cu", "SO3"}) {
    const double reached = percent_in(hidden_, goods_, name, true) / 100 * total_kg_per_ha_;
    const double all = percent_in(hidden_, goods_, name, false) / 100 * total_kg_per_ha_;
    if (reached < 0.02 || !(first || random_.chance(0.65))) continue;
    first = false;
    TargetDraft target{name, {}};
    const double lot = random_.between(0, 1);
    if (lot < 0.12 && reached == all) {
      target.limits.min = target.limits.max = down(all);
    } else {
      target.limits.min = down(reached * random_.between(0.7, 1));
      if (lot < 0.4) target.limits.max = up(all * random_.between(1.0, 1.3));
    }
    draft_.rates_kg_per_ha.push_back(target);
  }
}

void RuleDrawing::draw_total() {
  if (random_.chance(0.12)) return;
  Limits total;
  total.max = up(total_kg_per_ha_ * random_.between(1.0, 1.6));
  if (random_.chance(0.3)) total.min = down(total_kg_per_ha_ * random_.between(0.5, 1));
  if (random_.chance(0.06)) total.min = total.max;
  draft_.total_kg_per_ha = total;
}

void RuleDrawing::draw_grades() {
  const bool alone = draft_.rates_kg_per_ha.empty();
  bool first = alone;
  for (const char* name : {"N", "P2O5", "K2O", "S", "Mg", "Ca", "Zn", "B", "Mn", "Cu", "N-urea"}) {
    const double percent = percent_in(hidden_, goods_, name, false);
    if (percent < 1e-3 || !(first || random_.chance(alone ? 0.6 : 0.12))) continue;
    first = false;
    TargetDraft target{name, {}};
    const double lot = random_.between(0, 1);
    if (lot < 0.06) {
      target.limits.min = target.limits.max = down(percent);
    } else {
      target.limits.min = down(percent * random_.between(0.75, 1));
      if (lot < 0.3) target.limits.max = std::min(100.0, up(percent * random_.between(1.0, 1.4)));
    }
    draft_.grade_percent.push_back(target);
  }
  for (const char* name : {"Cl", "Cd", "biuret"}) {
    const double percent = percent_in(hidden_, goods_, name, false);
    const bool known = std::any_of(goods_.begin(), goods_.end(), [name](const Material& good) {
      return good.can_enter() && content_percent(good, name) > 0;
    });
    if (!known || !random_.chance(0.2)) continue;
    const double limit = up(percent * random_.between(1, 1.5) + 1e-4 * random_.whole(0, 3));
    draft_.grade_percent.push_back({name, {.max = limit}});
  }
}

void RuleDrawing::draw_ratios() {
  struct Pair {
    const char* of;
    const char* to;
  };
  for (const Pair& pair : {Pair{"N-ammonium", "N"}, Pair{"P2O5-water", "P2O5"}, Pair{"N", "S"},
                           Pair{"K", "Mg"}, Pair{"N-nitrate", "N"}, Pair{"Ca", "Mg"}}) {
    const double of = percent_in(hidden_, goods_, pair.of, false);
    const double to = percent_in(hidden_, goods_, pair.to, false);
    if (of < 1e-3 || to < 1e-3 || !random_.chance(0.18)) continue;
    RatioDraft ratio{pair.of, pair.to, {}};
    const double lot = random_.between(0, 1);
    if (lot < 0.75) ratio.limits.min = down(of / to * random_.between(0.6, 1));
    if (lot > 0.55) ratio.limits.max = up(of / to * random_.between(1, 1.6));
    draft_.ratios.push_back(ratio);
  }
}

void RuleDrawing::draw_shares() {
  for (std::size_t i = 0; i < goods_.size(); ++i) {
    if (!goods_[i].can_enter()) continue;
    Limits share;
    if (hidden_.uses(i) && random_.chance(0.25)) {
      share.min = down(share_percent(i) * random_.between(0.2, 0.9));
      if (random_.chance(0.4)) share.max = std::min(100.0, up(share_percent(i) * 1.4));
    } else if (random_.chance(0.12)) {
      share.max = std::min(100.0, up(share_percent(i) + random_.between(0, 40)));
    } else {
      continue;
    }
    draft_.materials[i].share_percent = share;
  }
}

void RuleDrawing::draw_minimum_if_used() {
  if (!random_.chance(0.5)) return;
  for (std::size_t i = 0; i < goods_.size(); ++i) {
    if (!goods_[i].can_enter() || !random_.chance(0.3)) continue;
    const bool powder = goods_[i].form_used() == Form::powder;
    double percent = powder ? random_.between(0.1, 0.8) : random_.between(1, 9);
    if (hidden_.uses(i) && random_.chance(0.8)) percent = std::min(percent, share_percent(i));
    const auto& share = draft_.materials[i].share_percent;
    if (share) percent = std::min(percent, share->max);
    if (percent > 1e-3) draft_.materials[i].min_if_used_percent = down(percent);
  }
}

void RuleDrawing::draw_stock() {
  if (!random_.chance(0.25)) return;
  const bool per_hectare = total_kg_per_ha_ > 0;
  const bool by_area = per_hectare && random_.chance(0.6);
  const double amount = std::round(random_.between(4, 90));
  (by_area ? draft_.make_hectares : draft_.make_tonnes) = amount;
  for (std::size_t i = 0; i < goods_.size(); ++i) {
    if (!goods_[i].can_enter() || !random_.chance(0.3)) continue;
    const double tonnes = by_area ? amount * total_kg_per_ha_ / 1000 : amount;
    const double needed_kg = hidden_.kg_per_t[i] * tonnes;
    draft_.materials[i].stock_kg =
        up(needed_kg * random_.between(1.0, 1.8) + random_.between(0, 60) * tonnes);
  }
}

void RuleDrawing::draw_bins() {
  if (!random_.chance(0.4)) return;
  int used = 0;
  for (std::size_t i = 0; i < goods_.size(); ++i)
    if (hidden_.uses(i) && goods_[i].form_used() == Form::granule) ++used;
  draft_.bins = used + random_.whole(0, 1);
}

void RuleDrawing::sabotage() {
  const int way = random_.whole(0, 3);
  if (way == 0 && draft_.bins) {
    draft_.bins = std::max(1, *draft_.bins - random_.whole(2, 4));
  } else if (way == 1 && draft_.total_kg_per_ha) {
    Limits& total = *draft_.total_kg_per_ha;
    total.max = down(total_kg_per_ha_ * random_.between(0.15, 0.6));
    if (total.has_min()) total.min = std::min(total.min, total.max);
  } else {
    auto& targets = draft_.rates_kg_per_ha.empty() ? draft_.grade_percent : draft_.rates_kg_per_ha;
    Limits& limits = targets[random_.index(targets.size())].limits;
    if (!limits.has_min()) limits.min = 0;
    limits.min = std::min(99.0, up(limits.min * random_.between(1.5, 6.0)));
    if (limits.has_max()) limits.max = std::max(limits.max, limits.min);
  }
}

}  // namespace leastwise::support
