#include <algorithm>
#include <utility>

#include "c/draft_changes.hpp"

using leastwise::Limits;
using leastwise::ScenarioDraft;
using leastwise::TargetDraft;
using namespace leastwise::c;

namespace {

using Targets = std::vector<TargetDraft>;

void set_limits(Targets& targets, const char* nutrient, const Limits& limits) {
  TargetDraft target;
  target.nutrient = text_of(nutrient, "nutrient");
  target.limits = limits;
  const auto found = std::ranges::find(targets, target.nutrient, &TargetDraft::nutrient);
  if (found != targets.end())
    found->limits = limits;
  else
    targets.push_back(std::move(target));
}

TargetDraft& target_of(Targets& targets, const char* nutrient) {
  const auto found =
      std::ranges::find(targets, text_of(nutrient, "nutrient"), &TargetDraft::nutrient);
  if (found == targets.end())
    throw CallerFault("the draft has no limits on '" + std::string(nutrient) + "' yet");
  return *found;
}

auto& pairs_of(ScenarioDraft& draft, leastwise_compatibility level) {
  switch (level) {
    case LEASTWISE_COMPATIBLE:
      return draft.compatible;
    case LEASTWISE_LIMITED:
      return draft.limited;
    case LEASTWISE_INCOMPATIBLE:
      return draft.incompatible;
  }
  throw CallerFault("there is no such compatibility");
}

}  // namespace

leastwise_draft* leastwise_draft_new(void) {
  try {
    return new leastwise_draft;
  } catch (...) {
    return nullptr;
  }
}

void leastwise_draft_free(leastwise_draft* draft) { delete draft; }

leastwise_result leastwise_draft_title(leastwise_draft* draft, const char* title) {
  return changed(draft, [&](ScenarioDraft& value) { value.title = text_of(title, "title"); });
}

leastwise_result leastwise_draft_currency(leastwise_draft* draft, const char* label) {
  return changed(draft, [&](ScenarioDraft& value) { value.currency = text_of(label, "label"); });
}

leastwise_result leastwise_draft_use(leastwise_draft* draft, const char* material) {
  return changed(draft, [&](ScenarioDraft& value) {
    std::vector<std::string> used = value.use.value_or(std::vector<std::string>{});
    std::string name = text_of(material, "material");
    if (std::ranges::find(used, name) == used.end()) used.push_back(std::move(name));
    value.use = std::move(used);
  });
}

leastwise_result leastwise_draft_rate(leastwise_draft* draft, const char* nutrient,
                                      double min_kg_per_ha, double max_kg_per_ha) {
  return changed(draft, [&](ScenarioDraft& value) {
    set_limits(value.rates_kg_per_ha, nutrient, limits_of(min_kg_per_ha, max_kg_per_ha));
  });
}

leastwise_result leastwise_draft_grade(leastwise_draft* draft, const char* nutrient,
                                       double min_percent, double max_percent) {
  return changed(draft, [&](ScenarioDraft& value) {
    set_limits(value.grade_percent, nutrient, limits_of(min_percent, max_percent));
  });
}

leastwise_result leastwise_draft_rate_confidence(leastwise_draft* draft, const char* nutrient,
                                                 double share) {
  return changed(draft, [&](ScenarioDraft& value) {
    target_of(value.rates_kg_per_ha, nutrient).confidence = share;
  });
}

leastwise_result leastwise_draft_grade_confidence(leastwise_draft* draft, const char* nutrient,
                                                  double share) {
  return changed(draft, [&](ScenarioDraft& value) {
    target_of(value.grade_percent, nutrient).confidence = share;
  });
}

leastwise_result leastwise_draft_grade_tolerance(leastwise_draft* draft, const char* nutrient,
                                                 const char* scheme) {
  return changed(draft, [&](ScenarioDraft& value) {
    target_of(value.grade_percent, nutrient).tolerance = text_of(scheme, "scheme");
  });
}

leastwise_result leastwise_draft_ratio(leastwise_draft* draft, const char* of, const char* to,
                                       double min, double max) {
  return changed(draft, [&](ScenarioDraft& value) {
    leastwise::RatioDraft ratio{text_of(of, "nutrient"), text_of(to, "nutrient"),
                                limits_of(min, max)};
    const auto same = [&](const leastwise::RatioDraft& other) {
      return other.of == ratio.of && other.to == ratio.to;
    };
    const auto found = std::ranges::find_if(value.ratios, same);
    if (found != value.ratios.end())
      found->limits = ratio.limits;
    else
      value.ratios.push_back(std::move(ratio));
  });
}

leastwise_result leastwise_draft_total(leastwise_draft* draft, double min_kg_per_ha,
                                       double max_kg_per_ha) {
  return changed(draft, [&](ScenarioDraft& value) {
    value.total_kg_per_ha = limits_of(min_kg_per_ha, max_kg_per_ha);
  });
}

leastwise_result leastwise_draft_bins(leastwise_draft* draft, int at_most) {
  return changed(draft, [&](ScenarioDraft& value) { value.bins = at_most; });
}

leastwise_result leastwise_draft_coating(leastwise_draft* draft, double max_percent) {
  return changed(draft,
                 [&](ScenarioDraft& value) { value.coating_percent = Limits{.max = max_percent}; });
}

leastwise_result leastwise_draft_binder(leastwise_draft* draft, const char* material,
                                        double percent_of_powder, double price_per_t, int organic) {
  return changed(draft, [&](ScenarioDraft& value) {
    leastwise::BinderDraft binder;
    binder.material = text_of(material, "material");
    binder.percent_of_powder = percent_of_powder;
    binder.price_per_t = price_per_t;
    if (organic >= 0) binder.organic = organic != 0;
    value.binder = std::move(binder);
  });
}

leastwise_result leastwise_draft_granular_factor(leastwise_draft* draft, const char* nutrient,
                                                 double factor) {
  return changed(draft, [&](ScenarioDraft& value) {
    if (nutrient == nullptr) {
      value.granular_micronutrient_factor = factor;
      return;
    }
    auto& factors = value.granular_micronutrient_factors;
    std::pair<std::string, double> stated(nutrient, factor);
    const auto found = std::ranges::find(factors, stated.first, &decltype(stated)::first);
    if (found != factors.end())
      found->second = factor;
    else
      factors.push_back(std::move(stated));
  });
}

leastwise_result leastwise_draft_confirm_high_rate(leastwise_draft* draft, const char* element) {
  return changed(draft, [&](ScenarioDraft& value) {
    auto& confirmed = value.confirm_high_rate;
    std::string name = text_of(element, "element");
    if (std::ranges::find(confirmed, name) == confirmed.end()) confirmed.push_back(std::move(name));
  });
}

leastwise_result leastwise_draft_blending_fee(leastwise_draft* draft, double per_t) {
  return changed(draft, [&](ScenarioDraft& value) { value.blending_fee_per_t = per_t; });
}

leastwise_result leastwise_draft_pair(leastwise_draft* draft, const char* family_a,
                                      const char* family_b, leastwise_compatibility level) {
  return changed(draft, [&](ScenarioDraft& value) {
    std::pair<std::string, std::string> pair(text_of(family_a, "family"),
                                             text_of(family_b, "family"));
    const auto is_same = [a = pair.first, b = pair.second](const auto& said) {
      return (said.first == a && said.second == b) || (said.first == b && said.second == a);
    };
    auto& pairs = pairs_of(value, level);
    pairs.reserve(pairs.size() + 1);  // from here on nothing fails
    for (auto* said : {&value.compatible, &value.limited, &value.incompatible})
      std::erase_if(*said, is_same);
    pairs.push_back(std::move(pair));
  });
}

leastwise_result leastwise_draft_forbid_limited(leastwise_draft* draft, int forbid) {
  return changed(draft, [&](ScenarioDraft& value) {
    value.limited_compatibility = forbid != 0 ? leastwise::LimitedCompatibility::forbid
                                              : leastwise::LimitedCompatibility::allow;
  });
}

leastwise_result leastwise_draft_make_hectares(leastwise_draft* draft, double hectares) {
  return changed(draft, [&](ScenarioDraft& value) { value.make_hectares = hectares; });
}

leastwise_result leastwise_draft_make_tonnes(leastwise_draft* draft, double tonnes) {
  return changed(draft, [&](ScenarioDraft& value) { value.make_tonnes = tonnes; });
}
