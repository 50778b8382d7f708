#include <leastwise/price_map.hpp>

#include <fmt/format.h>

#include "report/answers.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/own_units.hpp"
#include "report/kit/sections.hpp"
#include "report/pictures/pictures.hpp"
#include "report/words/recipe_notes.hpp"

namespace leastwise::report {
namespace {

std::string title_of(std::string_view subject, const std::string& title) {
  return title.empty() ? std::string(subject) : fmt::format("{}: {}", subject, title);
}

std::string breakpoints_sentence(const PriceMap& map) {
  const std::size_t changes = map.bands.empty() ? 0 : map.bands.size() - 1;
  const std::string found = changes == 0 ? "One recipe is the cheapest throughout."
                            : changes == 1
                                ? "The recipe changes at one price."
                                : fmt::format("The recipe changes at {} prices.", changes);
  return fmt::format(
      "{} None is missed: the cost is a straight line for each recipe, so between two prices that "
      "are proved nothing else can be cheaper ({}).",
      found, counted(map.solves, "solve"));
}

bool holds_now(const PriceMap& map, const PriceBand& band) {
  return map.price_now >= band.from && map.price_now <= band.to;
}

template <class Places>
std::vector<RecipeShown> recipes_of(const Places& places) {
  std::vector<RecipeShown> recipes;
  for (const auto& place : places) recipes.push_back(shown(place.blend));
  return recipes;
}

std::vector<Note> notes_of(const PriceMap& map) {
  return named_notes(recipe_notes(map.notes, recipes_of(map.bands)), map.bands.size());
}

std::vector<Note> notes_of(const PriceRegions& map) {
  return named_notes(recipe_notes(map.notes, recipes_of(map.regions)), map.regions.size());
}

void write_bands(Page& page, const PriceMap& map) {
  Table table;
  table.add_numbers(page.in_html() ? "recipe" : "");
  table.add_numbers("from " + price_heading(map.currency, map.units));
  table.add_numbers("to");
  table.add_numbers(cost_heading(map.currency, map.basis, map.units) + " from");
  table.add_numbers("to");
  table.add_numbers("share %");
  table.add_words("recipe, " + std::string(unit_name(Measure::dose, map.units)));
  std::size_t number = 0;
  for (const PriceBand& band : map.bands) {
    std::vector<std::string> cells{
        money_text(band.from),
        money_text(band.to),
        money_text(band.cost_from),
        money_text(band.cost_to),
        share_text(band.share_percent),
        (holds_now(map, band) ? "now: " : "") + recipe_words(band.blend.portions)};
    cells.insert(cells.begin(), std::to_string(++number));
    table.add_row(std::move(cells));
  }
  page.illustrated(price_map_picture(map), table);
}

void write_region(Page& page, const PriceRegions& map, std::size_t k) {
  const PriceRegion& region = map.regions[k];
  page.heading(
      fmt::format("Recipe {}: {} % of the prices", k + 1, share_text(region.area_percent)));
  page.item("  ", fmt::format("{} {}", recipe_words(region.blend.portions),
                              unit_name(Measure::dose, map.units)));
  page.item("  ", fmt::format("{} {} %, {} {} % of the product", map.first,
                              share_text(region.first_share_percent), map.second,
                              share_text(region.second_share_percent)));
  std::string corners;
  for (const PricePoint& p : region.polygon)
    corners += fmt::format("{}({}, {})", corners.empty() ? "" : " ", money_text(p.first),
                           money_text(p.second));
  page.item("  corners: ", corners);
}

std::string regions_sentence(const PriceRegions& map) {
  double known = 0;
  for (const PriceRegion& region : map.regions) known += region.area_percent;
  const std::string finished =
      map.outcome.status == Status::optimal
          ? std::string{}
          : fmt::format(" finished, {} % of the prices", share_text(known));
  return fmt::format(
      "{}{}, exact: the least cost at every corner is proved, and so it is in between ({}). "
      "Corners "
      "are pairs of prices, {} first.",
      counted(map.regions.size(), "region"), finished, counted(map.solves, "solve"), map.first);
}

}  // namespace

Page page_of(const PriceMap& map, Medium medium) {
  Page page(medium);
  page.title(title_of("Price map of " + map.material, map.title));
  write_outcome(page, map.outcome);
  if (map.bands.empty()) {
    write_notes(page, map.notes);
    return without_goods(std::move(page));
  }
  page.paragraph(fmt::format(
      "The least cost while the price of {} runs from {} to {} {}, everything else as it is. Its "
      "price now is {}.",
      map.material, money_text(map.from), money_text(map.to),
      price_heading(map.currency, map.units), money_text(map.price_now)));
  if (map.outcome.status == Status::optimal) page.paragraph(breakpoints_sentence(map));
  page.blank();
  write_bands(page, map);
  write_notes_and_safety(page, notes_of(map), recipes_of(map.bands));
  return page;
}

Page page_of(const PriceRegions& map, Medium medium) {
  Page page(medium);
  page.title(title_of(fmt::format("Price map of {} and {}", map.first, map.second), map.title));
  write_outcome(page, map.outcome);
  if (map.regions.empty()) {
    write_notes(page, map.notes);
    return without_goods(std::move(page));
  }
  page.paragraph(fmt::format(
      "The cheapest recipe while the price of {} runs from {} to {} and that of {} from {} to {} "
      "{}. Prices now: {} and {}.",
      map.first, money_text(map.first_range.min), money_text(map.first_range.max), map.second,
      money_text(map.second_range.min), money_text(map.second_range.max),
      price_heading(map.currency, map.units), money_text(map.prices_now.first),
      money_text(map.prices_now.second)));
  page.paragraph(regions_sentence(map));
  if (page.in_html())
    page.illustrated(price_regions_picture(map), price_regions_table(map));
  else
    for (std::size_t k = 0; k < map.regions.size(); ++k) write_region(page, map, k);
  write_notes_and_safety(page, notes_of(map), recipes_of(map.regions));
  return page;
}

std::string svg_of(const PriceMap& map) {
  return svg_with_notes(price_map_picture(map), map.outcome, notes_of(map));
}

std::string svg_of(const PriceRegions& map) {
  return svg_with_notes(price_regions_picture(map), map.outcome, notes_of(map));
}

}  // namespace leastwise::report
