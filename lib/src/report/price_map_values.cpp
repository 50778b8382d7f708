#include <leastwise/price_map.hpp>

#include "report/answers.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/answer_json.hpp"
#include "report/kit/own_units.hpp"
#include "report/recipe_notes_json.hpp"
#include "report/words/recipe_notes.hpp"

namespace leastwise::report {

std::string json_of(const PriceMap& map) {
  Json json = json_head("price_map", map.outcome, map.title, map.currency, map.basis);
  json["material"] = map.material;
  json["from_price_per_t"] = json_number(map.from);
  json["to_price_per_t"] = json_number(map.to);
  json["price_per_t_now"] = json_number(map.price_now);
  Json bands = Json::array();
  for (const PriceBand& band : map.bands)
    bands.push_back({{"from_price_per_t", json_number(band.from)},
                     {"to_price_per_t", json_number(band.to)},
                     {"cost_from", json_number(band.cost_from)},
                     {"cost_to", json_number(band.cost_to)},
                     {"cost_slope", json_number(band.cost_slope)},
                     {"share_percent", json_number(band.share_percent)},
                     {"blend", json_blend(band.blend)}});
  json["bands"] = bands;
  json["solves"] = map.solves;
  add_outcome(json, map.outcome);
  std::vector<RecipeShown> recipes;
  for (const PriceBand& band : map.bands) recipes.push_back(shown(band.blend));
  json["notes"] = json_notes(recipe_notes(map.notes, recipes));
  return json_text(json);
}

std::string csv_of(const PriceMap& map) {
  std::string csv = csv_header(
      "material,from_price_per_t,to_price_per_t,cost_from,cost_to,cost_slope,share_percent,"
      "recipe_kg_per_t,cautions,status\n",
      map.units);
  for (const PriceBand& band : map.bands)
    csv += csv_line(
        {map.material, csv_number(band.from), csv_number(band.to), csv_number(band.cost_from),
         csv_number(band.cost_to), csv_number(band.cost_slope), csv_number(band.share_percent),
         csv_recipe(band.blend.portions), csv_cautions(band.blend.notes), csv_status(map.outcome)});
  if (map.bands.empty()) csv += csv_nothing(10, map.outcome);
  return csv;
}

std::string json_of(const PriceRegions& map) {
  Json json = json_head("price_regions", map.outcome, map.title, map.currency, map.basis);
  json["materials"] = {map.first, map.second};
  const auto range = [](const Limits& r) {
    return Json{{"from", json_number(r.min)}, {"to", json_number(r.max)}};
  };
  json["ranges_per_t"] = {range(map.first_range), range(map.second_range)};
  json["prices_per_t_now"] = {json_number(map.prices_now.first),
                              json_number(map.prices_now.second)};
  Json regions = Json::array();
  for (const PriceRegion& region : map.regions) {
    Json polygon = Json::array();
    for (const PricePoint& p : region.polygon)
      polygon.push_back({json_number(p.first), json_number(p.second)});
    regions.push_back(
        {{"polygon", polygon},
         {"area_percent", json_number(region.area_percent)},
         {"cost_slopes", {json_number(region.first_slope), json_number(region.second_slope)}},
         {"share_percents",
          {json_number(region.first_share_percent), json_number(region.second_share_percent)}},
         {"blend", json_blend(region.blend)}});
  }
  json["regions"] = regions;
  json["solves"] = map.solves;
  add_outcome(json, map.outcome);
  std::vector<RecipeShown> recipes;
  for (const PriceRegion& region : map.regions) recipes.push_back(shown(region.blend));
  json["notes"] = json_notes(recipe_notes(map.notes, recipes));
  return json_text(json);
}

std::string csv_of(const PriceRegions& map) {
  const auto heading = [&](std::string_view name) { return csv_header(name, map.units); };
  std::string csv = csv_line({"region", "area_percent", map.first + " " + heading("price_per_t"),
                              map.second + " " + heading("price_per_t"), heading("recipe_kg_per_t"),
                              "cautions", "status"});
  for (std::size_t k = 0; k < map.regions.size(); ++k)
    for (const PricePoint& p : map.regions[k].polygon)
      csv += csv_line({std::to_string(k + 1), csv_number(map.regions[k].area_percent),
                       csv_number(p.first), csv_number(p.second),
                       csv_recipe(map.regions[k].blend.portions),
                       csv_cautions(map.regions[k].blend.notes), csv_status(map.outcome)});
  if (map.regions.empty()) csv += csv_nothing(7, map.outcome);
  return csv;
}

}  // namespace leastwise::report
