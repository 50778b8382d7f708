#include <algorithm>
#include <set>
#include <utility>

#include "base/codes.hpp"
#include "base/text/csv.hpp"
#include "base/text/wording.hpp"
#include "input/csv_cells.hpp"
#include "input/yaml/number.hpp"
#include "input/yaml/risk_keys.hpp"

namespace leastwise {
namespace {

constexpr std::string_view history_root = "risk.history";

class HistoryReader {
 public:
  explicit HistoryReader(NodeReader& reader) : reader_(reader) {}

  std::optional<PriceHistory> read(std::string_view text) {
    const CsvText csv = parse_csv(text);
    for (const auto& problem : csv.problems)
      bad_table({problem.line, problem.column, 1}, problem.message);
    if (csv.rows.empty()) {
      if (csv.problems.empty())
        bad_table({1, 1, 1},
                  "a price history must begin with date and the names of materials, found nothing");
      return std::nullopt;
    }
    if (!read_header(csv.rows.front())) return std::nullopt;
    if (csv.rows.size() == 1)
      bad_table(spot_of(csv.rows.front().fields.front()),
                "a price history must have a line of prices below its header, found none");
    for (std::size_t i = 1; i < csv.rows.size(); ++i) read_line(csv.rows[i]);
    if (!good_) return std::nullopt;
    return std::move(history_);
  }

 private:
  void bad_table(const SourceSpan& spot, std::string message) {
    good_ = false;
    reader_.error(codes::bad_table, std::string(history_root), spot, std::move(message));
  }

  bool read_header(const CsvRow& header) {
    if (trimmed(header.fields.front()) != "date") {
      bad_table(spot_of(header.fields.front()),
                "the first column of a price history must be date, found " +
                    in_quotes(trimmed(header.fields.front())));
      return false;
    }
    if (header.fields.size() == 1) {
      bad_table(spot_of(header.fields.front()),
                "a price history must name a material behind date, found none");
      return false;
    }
    for (std::size_t i = 1; i < header.fields.size(); ++i) {
      const CsvField& field = header.fields[i];
      const std::string name = trimmed(field);
      if (name.empty()) {
        bad_table(spot_of(field), "a column must name a material, found nothing");
        return false;
      }
      if (std::find(history_.materials.begin(), history_.materials.end(), name) !=
          history_.materials.end()) {
        bad_table(spot_of(field), "a material must have one column in a price history, found " +
                                      in_quotes(name) + " again");
        return false;
      }
      reader_.remember(path_below(history_root, name), spot_of(field));
      history_.materials.push_back(name);
    }
    return true;
  }

  void read_line(const CsvRow& row) {
    if (row.fields.size() != history_.materials.size() + 1) {
      bad_table(spot_of(row.fields.front()),
                "this line must have " + std::to_string(history_.materials.size() + 1) +
                    " fields like the first one, found " + std::to_string(row.fields.size()));
      return;
    }
    const std::string date = trimmed(row.fields.front());
    if (date.empty())
      gap(row.fields.front(), "a line of a price history must have a date, found nothing");
    else if (!dates_.insert(date).second)
      bad_table(spot_of(row.fields.front()),
                "a date must stand once in a price history, found " + in_quotes(date) + " again");
    std::vector<double> prices;
    for (std::size_t k = 0; k < history_.materials.size(); ++k) {
      const CsvField& field = row.fields[k + 1];
      const std::string& name = history_.materials[k];
      const std::string text = trimmed(field);
      reader_.remember(
          path_below(path_below(history_root, name), std::to_string(history_.rows.size())),
          spot_of(field));
      if (text.empty()) {
        gap(field, "the price of " + in_quotes(name) + " on " + in_quotes(date) +
                       " is missing; a price history may have no gaps, so leave the line out or "
                       "fill it in");
        prices.push_back(0);
        continue;
      }
      const NumberText number = read_number(text);
      if (!number.value) {
        good_ = false;
        reader_.error(codes::bad_number, std::string(history_root), spot_of(field),
                      "expected a number for the price of " + in_quotes(name) + ", found " +
                          in_quotes(text) + (number.advice.empty() ? "" : "; " + number.advice));
      }
      prices.push_back(
          to_metric(number.value.value_or(0), Measure::price_of_goods, reader_.units()));
    }
    history_.dates.push_back(date);
    history_.rows.push_back(std::move(prices));
  }

  void gap(const CsvField& field, std::string message) {
    good_ = false;
    reader_.error(codes::history_gap, std::string(history_root), spot_of(field),
                  std::move(message));
  }

  NodeReader& reader_;
  PriceHistory history_{};
  std::set<std::string> dates_{};
  bool good_ = true;
};

}  // namespace

std::optional<PriceHistory> read_price_history(NodeReader& reader, std::string_view text) {
  return HistoryReader(reader).read(text);
}

}  // namespace leastwise
