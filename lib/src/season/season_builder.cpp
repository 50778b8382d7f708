#include "season/season_builder.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"

namespace leastwise {
namespace {

constexpr Range tonnes_range{0, largest_number, false, "tonnes"};
constexpr Range hectares_range{0, largest_number, true, "hectares"};

ScenarioDraft text_of(const SeasonDraft& draft) {
  ScenarioDraft text;
  text.places = draft.places;
  text.source_lines = draft.source_lines;
  return text;
}

std::string path_of(const SeasonBlendDraft& draft) {
  return draft.path.empty() ? below("blends", draft.name) : draft.path;
}

}  // namespace

Season::Season(const SeasonDraft& draft) { *this = SeasonBuilder(draft, Reading{}).build(); }

SeasonBuilder::SeasonBuilder(SeasonDraft draft, Reading reading)
    : draft_(std::move(draft)),
      text_(text_of(draft_)),
      diagnostics_(text_, std::move(reading)),
      checks_(text_, diagnostics_) {}

Season SeasonBuilder::build() && {
  season_.title_ = draft_.title;
  checks_.text("season", "the title of a season", draft_.title);
  check_periods();
  resolve_blends();
  check_alike();
  resolve_stock();
  resolve_supply();
  resolve_storage();
  resolve_shared();
  resolve_purchases();
  resolve_yards();
  resolve_runs();
  price_goods();
  if (!diagnostics_.empty()) throw InputError(diagnostics_.take());
  return std::move(season_);
}

Place SeasonBuilder::place_of(const std::string& path) const {
  const Place place = nearest_place(text_, path);
  return place ? place : Place{};
}

bool SeasonBuilder::check_once(std::map<std::string, std::string>& seen, const std::string& name,
                               const std::string& path, std::string_view what) {
  const auto [first, is_new] = seen.emplace(name, path);
  if (is_new) return true;
  diagnostics_.error(
      codes::duplicate_name, path,
      std::string(what) + " must be given once, found " + in_quotes(name) + " again");
  diagnostics_.also(first->second, "first given here");
  return false;
}

void SeasonBuilder::check_periods() {
  std::map<std::string, std::string> seen;
  for (std::size_t p = 0; p < draft_.periods.size(); ++p) {
    const std::string path = below("periods", std::to_string(p));
    if (checks_.name(path, "the name of a period", draft_.periods[p]))
      check_once(seen, draft_.periods[p], path, "a period");
  }
  season_.periods_ = draft_.periods;
}

std::optional<std::size_t> SeasonBuilder::period_named(const std::string& name,
                                                       const std::string& path) {
  const auto found = std::ranges::find(draft_.periods, name);
  if (found != draft_.periods.end())
    return static_cast<std::size_t>(found - draft_.periods.begin());
  if (diagnostics_.touched("periods")) return std::nullopt;
  Suggestion suggestion(name);
  for (const auto& known : draft_.periods) suggestion.offer(known);
  diagnostics_.error(codes::bad_season, path,
                     draft_.periods.empty() ? "a period must be one of periods, found " +
                                                  in_quotes(name) + " in a season that lists none"
                                            : "expected a period of the season, found " +
                                                  in_quotes(name) + suggestion.question());
  return std::nullopt;
}

void SeasonBuilder::resolve_blends() {
  if (draft_.blends.empty() && !diagnostics_.touched("blends"))
    diagnostics_.error(
        codes::missing_key, "blends",
        "a season must have blends, found none; add blends, each with a scenario and "
        "tonnes");
  std::map<std::string, std::string> seen;
  for (const auto& draft : draft_.blends) {
    const std::string path = path_of(draft);
    if (checks_.name(path, "the name of a blend", draft.name))
      check_once(seen, draft.name, path, "a blend");
    resolve(draft);
  }
}

void SeasonBuilder::resolve(const SeasonBlendDraft& draft) {
  const std::string path = path_of(draft);
  std::size_t period = 0;
  if (!draft.period.empty()) {
    period = period_named(draft.period, below(path, "period")).value_or(0);
  } else if (!draft_.periods.empty() && !diagnostics_.touched(path)) {
    diagnostics_.error(codes::missing_key, path,
                       "blend " + in_quotes(draft.name) +
                           " must say in which period it is made, "
                           "found none; add period");
  }
  if (!draft.scenario) {
    if (!diagnostics_.touched(path))
      diagnostics_.error(codes::missing_key, path,
                         "blend " + in_quotes(draft.name) + " must have a scenario, found none");
    return;
  }
  if (draft.scenario->bins())
    diagnostics_.error(codes::bad_season, below(path, "scenario"),
                       "a season does not go with blend.bins, found bins in blend " +
                           in_quotes(draft.name) +
                           "; take bins out of its scenario, and say runs in the season");
  check_buys_at_one_price(draft, path);
  const auto amount = amount_of(draft, path);
  check_sale(draft, path);
  if (!amount) return;
  const bool by_tonne = draft.scenario->basis() == Basis::per_tonne;
  season_.blends_.push_back({draft.name, *draft.scenario, *amount, draft.price_per_t, period,
                             place_of(below(path, by_tonne ? "tonnes" : "hectares"))});
}

std::optional<Limits> SeasonBuilder::amount_of(const SeasonBlendDraft& draft,
                                               const std::string& path) {
  const bool by_tonne = draft.scenario->basis() == Basis::per_tonne;
  const bool other = by_tonne ? draft.hectares.has_value() : draft.tonnes.has_value();
  if (other) {
    diagnostics_.error(codes::bad_season, below(path, by_tonne ? "hectares" : "tonnes"),
                       by_tonne ? "the scenario of blend " + in_quotes(draft.name) +
                                      " is per tonne of product, found hectares; state tonnes"
                                : "the scenario of blend " + in_quotes(draft.name) +
                                      " is per hectare, found tonnes; state hectares");
    return std::nullopt;
  }
  return by_tonne ? tonnes_of(draft, path) : hectares_of(draft, path);
}

std::optional<Limits> SeasonBuilder::hectares_of(const SeasonBlendDraft& draft,
                                                 const std::string& path) {
  if (!draft.hectares) {
    if (!diagnostics_.touched(path))
      diagnostics_.error(codes::missing_key, path,
                         "blend " + in_quotes(draft.name) +
                             " must say how much is wanted, found no hectares; add hectares");
    return std::nullopt;
  }
  if (!checks_.number(below(path, "hectares"), "the land of a blend", *draft.hectares,
                      hectares_range))
    return std::nullopt;
  return Limits{*draft.hectares, *draft.hectares};
}

std::optional<Limits> SeasonBuilder::tonnes_of(const SeasonBlendDraft& draft,
                                               const std::string& path) {
  if (!draft.tonnes) {
    if (!diagnostics_.touched(path))
      diagnostics_.error(codes::missing_key, path,
                         "blend " + in_quotes(draft.name) +
                             " must say how much is wanted, found no tonnes; add tonnes");
    return std::nullopt;
  }
  Limits tonnes = *draft.tonnes;
  const std::string at = below(path, "tonnes");
  if (!checks_.limits(at, "the tonnes of a blend", tonnes, tonnes_range)) return std::nullopt;
  if (tonnes.max == 0) {
    diagnostics_.error(codes::out_of_range, at,
                       "the tonnes of a blend must be above 0 tonnes, found 0");
    return std::nullopt;
  }
  if (!tonnes.has_max()) {
    diagnostics_.error(codes::bad_season, at,
                       "the tonnes of blend " + in_quotes(draft.name) +
                           " must have an end, found min alone; add max");
    return std::nullopt;
  }
  if (!tonnes.has_min()) tonnes.min = 0;
  if (!tonnes.exact() && !draft.price_per_t && !diagnostics_.touched(path)) {
    diagnostics_.error(codes::missing_key, at,
                       "a blend of which more or less may be made must have a selling price, found "
                       "none for " +
                           in_quotes(draft.name) + "; add price_per_t");
    return std::nullopt;
  }
  return tonnes;
}

void SeasonBuilder::check_sale(const SeasonBlendDraft& draft, const std::string& path) {
  if (!draft.price_per_t) return;
  const std::string at = below(path, "price_per_t");
  checks_.number(at, "the selling price of a blend", *draft.price_per_t, charge_range);
  if (draft.scenario->basis() == Basis::per_hectare)
    diagnostics_.error(
        codes::bad_season, at,
        "a selling price is per tonne of a product by the tonne, found one for blend " +
            in_quotes(draft.name) + ", which is per hectare");
}

/// Costs are added up, so they must be in one currency.
void SeasonBuilder::check_alike() {
  if (season_.blends_.empty()) return;
  const auto& first = season_.blends_.front();
  season_.currency_ = first.scenario.currency();
  for (const auto& blend : season_.blends_) {
    if (blend.scenario.currency() == season_.currency_) continue;
    diagnostics_.error(codes::bad_season, below("blends", blend.name),
                       "the blends of a season must state one currency, found " +
                           in_quotes(season_.currency_) + " in " + in_quotes(first.name) + " and " +
                           in_quotes(blend.scenario.currency()) + " in " + in_quotes(blend.name));
    return;
  }
}

bool SeasonBuilder::check_material(const std::string& material, const std::string& path) {
  bool known = false;
  Suggestion suggestion(material);
  for (const auto& blend : season_.blends_) {
    known = known || blend.scenario.index_of(material).has_value();
    for (const auto& one : blend.scenario.materials()) suggestion.offer(one.name);
  }
  if (known || diagnostics_.touched("blends")) return known;
  // A blend that was rejected for another reason may be the one that has it.
  if (season_.blends_.size() < draft_.blends.size()) return false;
  diagnostics_.error(
      codes::unknown_material, path,
      "expected a material of some blend, found " + in_quotes(material) + suggestion.question());
  return false;
}

/// One heap in the yard has one analysis.
void SeasonBuilder::check_one_material(const std::string& material, const std::string& path) {
  const SeasonBlend* first = nullptr;
  for (const auto& blend : season_.blends_) {
    const auto i = blend.scenario.index_of(material);
    if (!i) continue;
    if (first == nullptr) {
      first = &blend;
      continue;
    }
    const auto& one = first->scenario.materials()[*first->scenario.index_of(material)];
    const auto& other = blend.scenario.materials()[*i];
    const bool same = one.form == other.form &&
                      std::ranges::equal(one.contains_percent, other.contains_percent,
                                         [](const Content& a, const Content& b) {
                                           return a.name == b.name && a.percent == b.percent;
                                         });
    if (same) continue;
    diagnostics_.error(
        codes::bad_season, path,
        "a material that blends share must have one form and one analysis, found two "
        "of " +
            in_quotes(material) + ", in blends " + in_quotes(first->name) + " and " +
            in_quotes(blend.name));
    return;
  }
}

}  // namespace leastwise
