#include "report/indices_section.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <string>
#include <string_view>
#include <vector>

#include "report/kit/numbers.hpp"

namespace leastwise::report {
namespace {

constexpr double hundred = 100;

/// The lines of the table: a figure, and of how much of the product it is.
class IndexTable {
 public:
  IndexTable() {
    table_.add_words("");
    table_.add_numbers("the blend");
    table_.add_numbers("of it known, %");
    table_.add_words("without a figure");
  }

  void add(std::string_view name, const std::string& value, double known_percent,
           const std::vector<std::string>& unknown) {
    table_.add_row({std::string(name), value.empty() ? "-" : value, share_text(known_percent),
                    fmt::format("{}", fmt::join(unknown, ", "))});
  }
  void add(std::string_view name, const BlendIndex& index, double times = 1) {
    add(name, index.value ? amount_text(times * *index.value) : std::string(), index.known_percent,
        index.unknown);
  }

  [[nodiscard]] Table table() && { return std::move(table_); }

 private:
  Table table_{};
};

Table index_table(const BlendIndices& indices, Units units) {
  IndexTable table;
  table.add(indices.salt_index.unknown.empty() ? "salt index" : "salt index, at least",
            indices.salt_index);
  table.add("lime need, kg CaCO3/100 kg", indices.lime_need);
  if (indices.lime_need_kg_per_ha)
    table.add(fmt::format("lime need, {}", unit_name(Measure::rate, units)),
              amount_text(from_metric(*indices.lime_need_kg_per_ha, Measure::rate, units)),
              indices.lime_need.known_percent, {});
  table.add(fmt::format("bulk density, {}", unit_name(Measure::density, units)),
            indices.bulk_density_kg_per_m3, from_metric(1, Measure::density, units));
  table.add("size (SGN), mean", indices.sgn);
  if (indices.least_sgn)
    table.add(
        "size (SGN), range",
        fmt::format("{} to {}", plain_text(*indices.least_sgn), plain_text(*indices.most_sgn)),
        indices.sgn.known_percent, {});
  table.add("uniformity index, mean", indices.ui);
  const BlendHumidity& humidity = indices.humidity;
  table.add("draws water from, % RH",
            humidity.percent ? plain_text(*humidity.percent) : std::string(),
            humidity.known_percent, humidity.unknown);
  return std::move(table).table();
}

std::string humidity_words(const BlendHumidity& humidity) {
  if (!humidity.percent) return {};
  return fmt::format("Relative humidity (RH): at 30 C, of {}{} ({}).", humidity.of,
                     humidity.is_pair ? ", the worst pair"
                                      : " alone; the mixture lies below it, no table has its pairs",
                     humidity.source);
}

Json json_index(const BlendIndex& index) {
  return {{"value", json_number(index.value)},
          {"known_percent", json_number(index.known_percent)},
          {"unknown", index.unknown}};
}

Json json_humidity(const BlendHumidity& humidity) {
  return {{"percent", json_number(humidity.percent)},
          {"of", humidity.of.empty() ? Json(nullptr) : Json(humidity.of)},
          {"is_pair", humidity.is_pair},
          {"source", humidity.source.empty() ? Json(nullptr) : Json(humidity.source)},
          {"known_percent", json_number(humidity.known_percent)},
          {"unknown", humidity.unknown}};
}

}  // namespace

void write_indices(Page& page, const Blend& blend) {
  if (!blend.indices) return;
  const BlendIndices& indices = *blend.indices;
  page.heading("How it acts and handles");
  page.table(index_table(indices, blend.units));
  page.item("  ",
            "Salt index: sodium nitrate = 100 (Mortvedt 2001). Lime need: calcium carbonate that "
            "makes up for the acid (extension and university tables, stoichiometry); below 0 the "
            "blend makes up for acid. Both are by mass of the product; what has no figure counts "
            "0.");
  if (const auto& sgn = indices.sgn.value; sgn && *indices.most_sgn > *indices.least_sgn)
    page.item("  ",
              fmt::format("Sizes: the granules differ by {} % of the mean; within 10 % they "
                          "match, over 20 % they segregate (common practice).",
                          share_text((*indices.most_sgn - *indices.least_sgn) / *sgn * hundred)));
  page.item("  ",
            "Density, size and uniformity are of the granules. Densities are added up by volume: "
            "where small granules fill the gaps of large ones, the blend is denser.");
  if (const std::string words = humidity_words(indices.humidity); !words.empty())
    page.item("  ", words);
}

Json json_indices(const BlendIndices& indices) {
  return {{"salt_index", json_index(indices.salt_index)},
          {"lime_need", json_index(indices.lime_need)},
          {"lime_need_kg_per_ha", json_number(indices.lime_need_kg_per_ha)},
          {"bulk_density_kg_per_m3", json_index(indices.bulk_density_kg_per_m3)},
          {"sgn", json_index(indices.sgn)},
          {"least_sgn", json_number(indices.least_sgn)},
          {"most_sgn", json_number(indices.most_sgn)},
          {"ui", json_index(indices.ui)},
          {"humidity", json_humidity(indices.humidity)}};
}

}  // namespace leastwise::report
