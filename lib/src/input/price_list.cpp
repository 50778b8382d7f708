#include "input/price_list.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <utility>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/csv.hpp"
#include "base/text/dates.hpp"
#include "base/text/wording.hpp"
#include "input/csv_cells.hpp"
#include "input/yaml/number.hpp"
#include "input/yaml/us_units.hpp"

namespace leastwise {
namespace {

enum PriceColumn : std::size_t {
  name_column,
  price_per_t_column,
  freight_per_t_column,
  supplier_column,
  from_column,
  until_column,
  plant_column,
  from_t_column,
  beyond_t_column,
  least_lot_column
};

constexpr std::array<std::string_view, 10> price_columns{
    "material", "price_per_t", "freight_per_t", "supplier", "from",
    "until",    "plant",       "from_t",        "beyond_t", "minimum_lot_t"};
constexpr std::string_view price_root = "prices";

/// Which field of a line holds each column.
using Columns = std::array<std::optional<std::size_t>, price_columns.size()>;

class PriceListReader {
 public:
  PriceListReader(NodeReader& reader, const PricesMeant& meant) : reader_(reader), meant_(meant) {}

  std::vector<PriceDraft> read(std::string_view text) {
    const CsvText csv = parse_csv(text);
    for (const auto& problem : csv.problems) {
      bad_table({problem.line, problem.column, 1}, problem.message);
    }
    if (csv.rows.empty()) {
      if (csv.problems.empty()) {
        bad_table({1, 1, 1}, "a price list must begin with material,price_per_t, found nothing");
      }
      return {};
    }
    if (!read_header(csv.rows.front())) return {};
    for (std::size_t i = 1; i < csv.rows.size(); ++i) read_line(csv.rows[i]);
    return chosen_prices(reader_, lines_, meant_);
  }

 private:
  void bad_table(const SourceSpan& spot, std::string message) {
    reader_.error(codes::bad_table, std::string(price_root), spot, std::move(message));
  }

  bool read_header(const CsvRow& header) {
    bool good = true;
    for (std::size_t i = 0; i < header.fields.size(); ++i) {
      good = read_column_name(header.fields[i], i) && good;
    }
    if (!good) return false;
    for (const auto needed : {name_column, price_per_t_column}) {
      if (columns_[needed]) continue;
      bad_table(spot_of(header.fields.front()),
                "a price list must have the columns material and price_per_t, found no " +
                    in_quotes(price_columns[needed]));
      return false;
    }
    field_count_ = header.fields.size();
    return true;
  }

  bool read_column_name(const CsvField& field, std::size_t position) {
    const std::string name = trimmed(field);
    const auto known = column_of(name, field);
    if (!known) return false;
    if (*known == price_columns.end()) {
      Suggestion suggestion(name);
      for (const auto column : price_columns) suggestion.offer(column);
      const bool other_separator = name.find_first_of(";\t") != std::string::npos;
      bad_table(
          spot_of(field),
          "the columns of a price list are material, price_per_t, freight_per_t, supplier, from, "
          "until, plant, from_t, beyond_t and minimum_lot_t, found " +
              in_quotes(name) +
              (other_separator ? "; separate the columns with commas" : suggestion.question()));
      return false;
    }
    auto& column = columns_[static_cast<std::size_t>(*known - price_columns.begin())];
    if (column) {
      bad_table(spot_of(field), "a column must stand once, found " + in_quotes(name) + " again");
      return false;
    }
    column = position;
    return true;
  }

  /// The column of that name, in any units; nothing where its unit may not stand here.
  std::optional<decltype(price_columns)::const_iterator> column_of(const std::string& name,
                                                                   const CsvField& field) {
    const auto us = us_key(name);
    const bool is_us = us && us->us_key == name && reader_.units() == Units::us;
    const auto known =
        std::find(price_columns.begin(), price_columns.end(), is_us ? us->metric_key : name);
    if (us && !is_us) {
      const bool misspelt = reader_.units() == Units::us;
      reader_.error(codes::us_unit, std::string(price_root), spot_of(field),
                    misspelt
                        ? "a price list has no column " + in_quotes(name) + "; write " + us->us_key
                        : "the column " + in_quotes(name) + " counts in US units (" +
                              std::string(us->unit) +
                              "), and this scenario in metric ones: " + std::string(us->equal) +
                              "; write " + us->metric_key + ", or state units: us in the scenario");
      return std::nullopt;
    }
    if (known == price_columns.end() || us_key_of(*known).empty()) return known;
    const Units units = is_us ? Units::us : Units::metric;
    if (units_ && *units_ != units) {
      reader_.error(codes::us_unit, std::string(price_root), spot_of(field),
                    "the prices of a list must all count in one unit, found " + in_quotes(name) +
                        " beside the other unit; write " +
                        (is_us ? us->metric_key : us_key_of(name)));
      return std::nullopt;
    }
    units_ = units;
    return known;
  }

  void read_line(const CsvRow& row) {
    const CsvField& name_field =
        row.fields[std::min(*columns_[name_column], row.fields.size() - 1)];
    if (row.fields.size() != field_count_) {
      bad_table(spot_of(row.fields.front()), "this line must have " + std::to_string(field_count_) +
                                                 " fields like the first one, found " +
                                                 std::to_string(row.fields.size()));
      return;
    }
    PriceLine line;
    PriceDraft& price = line.price;
    price.material = trimmed(name_field);
    line.name = spot_of(name_field);
    const std::string path = path_below(price_root, price.material);
    if (price.material.empty()) {
      bad_table(spot_of(name_field), "a line must name a material, found nothing");
      return;
    }
    const Place place = reader_.place_at(spot_of(name_field));
    const auto [first, is_new] = seen_.emplace(price.material, place);
    if (!is_new && !may_repeat()) {
      reader_.error(codes::duplicate_name, path, spot_of(name_field),
                    "material " + in_quotes(price.material) +
                        " must be in the price list once, found it again");
      reader_.also(first->second, "first listed here");
      return;
    }
    read_prices(row, path, line);
  }

  void read_prices(const CsvRow& row, const std::string& path, PriceLine line) {
    const CsvField& price = row.fields[*columns_[price_per_t_column]];
    line.amount = spot_of(price);
    const auto amount = read_amount(price, path_below(path, price_columns[price_per_t_column]));
    const bool tonnes_are_good = read_tonnes(row, path, line);
    if (const CsvField* field = filled(row, freight_per_t_column)) {
      line.freight = spot_of(*field);
      line.price.freight_per_t =
          read_amount(*field, path_below(path, price_columns[freight_per_t_column]));
    }
    if (const CsvField* field = filled(row, supplier_column)) line.price.supplier = trimmed(*field);
    if (const CsvField* field = filled(row, plant_column)) line.plant = trimmed(*field);
    const bool first_is_good = read_day(row, from_column, line.from);
    const bool last_is_good = read_day(row, until_column, line.until);
    if (!amount || !tonnes_are_good || !first_is_good || !last_is_good) return;
    if (line.from && line.until && *line.until < *line.from) {
      bad_table(line.name, "a price must hold until a day that is not before its first, found " +
                               date_text(*line.from) + " and " + date_text(*line.until));
      return;
    }
    line.price.price_per_t = *amount;
    if (line.tier) line.tier->price_per_t = amount;
    lines_.push_back(std::move(line));
  }

  /// Reads what counts in tonnes. Returns: false when something does not.
  bool read_tonnes(const CsvRow& row, const std::string& path, PriceLine& line) {
    bool good = true;
    const auto take = [&](PriceColumn column, std::optional<double>& tonnes) {
      const CsvField* field = filled(row, column);
      if (field == nullptr) return;
      tonnes = read_amount(*field, path_below(path, price_columns[column]), Measure::goods);
      good = good && tonnes.has_value();
    };
    PriceTierDraft tier;
    take(from_t_column, tier.from_t);
    take(beyond_t_column, tier.beyond_t);
    take(least_lot_column, line.price.minimum_lot_t);
    if (tier.from_t || tier.beyond_t) line.tier = tier;
    return good;
  }

  /// The cell of a column that there is, where something stands in it.
  [[nodiscard]] const CsvField* filled(const CsvRow& row, PriceColumn column) const {
    if (!columns_[column]) return nullptr;
    const CsvField& field = row.fields[*columns_[column]];
    return trimmed(field).empty() ? nullptr : &field;
  }

  /// Whether a material may have several lines: of suppliers, spans of days, plants or tiers.
  [[nodiscard]] bool may_repeat() const {
    return std::ranges::any_of(std::array{supplier_column, from_column, until_column, plant_column,
                                          from_t_column, beyond_t_column},
                               [this](PriceColumn column) { return columns_[column].has_value(); });
  }

  /// Reads the day of a cell that holds one. Returns: false when it holds something else.
  bool read_day(const CsvRow& row, PriceColumn column, MaybeDay& day) {
    const CsvField* field = filled(row, column);
    if (field == nullptr) return true;
    day = day_of(trimmed(*field));
    if (day) return true;
    reader_.error(codes::bad_date, std::string(price_root), spot_of(*field),
                  std::string(price_columns[column]) + " must be a day such as 2026-03-02, found " +
                      in_quotes(trimmed(*field)));
    return false;
  }

  std::optional<double> read_amount(const CsvField& field, const std::string& path,
                                    Measure measure = Measure::price_of_goods) {
    const std::string text = trimmed(field);
    const NumberText number = read_number(text);
    if (number.value) return to_metric(*number.value, measure, units_.value_or(Units::metric));
    reader_.error(codes::bad_number, path, spot_of(field),
                  "expected a number for " + key_of(path) + ", found " +
                      (text.empty() ? "nothing" : in_quotes(text)) +
                      (number.advice.empty() ? "" : "; " + number.advice));
    return std::nullopt;
  }

  NodeReader& reader_;
  Columns columns_{};
  std::optional<Units> units_{};  ///< of the prices, once a column has told
  std::size_t field_count_ = 0;
  std::map<std::string, Place> seen_{};
  std::vector<PriceLine> lines_{};
  const PricesMeant& meant_;
};

}  // namespace

std::vector<PriceDraft> read_price_list(NodeReader& reader, std::string_view text,
                                        const PricesMeant& meant) {
  return PriceListReader(reader, meant).read(text);
}

}  // namespace leastwise
