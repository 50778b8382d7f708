#include <leastwise/price_map.hpp>

#include <fmt/format.h>

#include "report/landscape_cells.hpp"
#include "report/numbers.hpp"
#include "report/pictures/pictures.hpp"
#include "report/sections.hpp"

namespace leastwise {
namespace {

using namespace report;

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
      "are proved nothing else can be cheaper ({} solves).",
      found, map.solves);
}

bool holds_now(const PriceMap& map, const PriceBand& band) {
  return map.price_now >= band.from && map.price_now <= band.to;
}

void write_bands(Page& page, const PriceMap& map) {
  Table table;
  if (page.in_html()) table.add_numbers("recipe");
  table.add_numbers("from " + price_heading(map.currency));
  table.add_numbers("to");
  table.add_numbers(cost_heading(map.currency, map.basis) + " from");
  table.add_numbers("to");
  table.add_numbers("share %");
  table.add_words("recipe, kg/t");
  std::size_t number = 0;
  for (const PriceBand& band : map.bands) {
    std::vector<std::string> cells{
        money_text(band.from),
        money_text(band.to),
        money_text(band.cost_from),
        money_text(band.cost_to),
        share_text(band.share_percent),
        (holds_now(map, band) ? "now: " : "") + recipe_words(band.blend.portions)};
    if (page.in_html()) cells.insert(cells.begin(), std::to_string(++number));
    table.add_row(std::move(cells));
  }
  page.illustrated(price_map_picture(map), table);
}

void write_region(Page& page, const PriceRegions& map, const PriceRegion& region) {
  page.heading(fmt::format("{} % of the prices", share_text(region.area_percent)));
  page.item("  ", fmt::format("{} kg/t", recipe_words(region.blend.portions)));
  page.item("  ", fmt::format("{} {} %, {} {} % of the product", map.first,
                              share_text(region.first_share_percent), map.second,
                              share_text(region.second_share_percent)));
  std::string corners;
  for (const PricePoint& p : region.polygon)
    corners += fmt::format("{}({}, {})", corners.empty() ? "" : " ", money_text(p.first),
                           money_text(p.second));
  page.item("  corners: ", corners);
}

Page page_of(const PriceMap& map, Medium medium) {
  Page page(medium);
  page.title(title_of("Price map of " + map.material, map.title));
  write_ending(page, map.ending);
  if (map.bands.empty()) return without_goods(std::move(page));
  page.paragraph(fmt::format(
      "The least cost while the price of {} runs from {} to {} {}, everything else as it is. Its "
      "price now is {}.",
      map.material, money_text(map.from), money_text(map.to), price_heading(map.currency),
      money_text(map.price_now)));
  if (map.ending.status == Status::optimal) page.paragraph(breakpoints_sentence(map));
  page.blank();
  write_bands(page, map);
  const auto& blend = map.bands.front().blend;
  write_notes(page, blend.notes);
  write_safety(page, blend.portions, blend.supply, blend.notes);
  return page;
}

Page page_of(const PriceRegions& map, Medium medium) {
  Page page(medium);
  page.title(title_of(fmt::format("Price map of {} and {}", map.first, map.second), map.title));
  write_ending(page, map.ending);
  if (map.regions.empty()) return without_goods(std::move(page));
  page.paragraph(fmt::format(
      "The cheapest recipe while the price of {} runs from {} to {} and that of {} from {} to {} "
      "{}. Prices now: {} and {}.",
      map.first, money_text(map.first_range.min), money_text(map.first_range.max), map.second,
      money_text(map.second_range.min), money_text(map.second_range.max),
      price_heading(map.currency), money_text(map.prices_now.first),
      money_text(map.prices_now.second)));
  page.paragraph(fmt::format(
      "{} {}, exact: the least cost at every corner is proved, and so it is in between ({} "
      "solves). Corners are pairs of prices, {} first.",
      map.regions.size(), map.regions.size() == 1 ? "region" : "regions", map.solves, map.first));
  if (page.in_html())
    page.illustrated(price_regions_picture(map), price_regions_table(map));
  else
    for (const PriceRegion& region : map.regions) write_region(page, map, region);
  const auto& blend = map.regions.front().blend;
  write_notes(page, blend.notes);
  write_safety(page, blend.portions, blend.supply, blend.notes);
  return page;
}

}  // namespace

std::string to_text(const PriceMap& map, const TextOptions& options) {
  return page_of(map, Medium::text).text(options);
}

std::string to_html(const PriceMap& map, Paper paper) {
  return page_of(map, Medium::html).html(paper);
}

std::string to_svg(const PriceMap& map) {
  const Picture picture = price_map_picture(map);
  return svg_document({&picture, 1});
}

std::string to_text(const PriceRegions& map, const TextOptions& options) {
  return page_of(map, Medium::text).text(options);
}

std::string to_html(const PriceRegions& map, Paper paper) {
  return page_of(map, Medium::html).html(paper);
}

std::string to_svg(const PriceRegions& map) {
  const Picture picture = price_regions_picture(map);
  return svg_document({&picture, 1});
}

}  // namespace leastwise
