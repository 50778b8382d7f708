#include <leastwise/toxic_element.hpp>

#include <algorithm>
#include <vector>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

std::vector<ToxicElement> read_toxic_elements() {
  const Table table("toxic_elements.csv", embedded::toxic_elements_csv());
  std::vector<ToxicElement> list;
  for (std::size_t row = 0; row < table.size(); ++row) {
    ToxicElement one;
    one.symbol = table.text(row, "symbol");
    one.name = table.text(row, "name");
    one.from_percent = table.number(row, "from_percent");
    one.is_refused = table.flag(row, "refused");
    one.caution = table.text(row, "caution");
    one.at_work = table.text(row, "at_work");
    one.source = table.source(row);
    list.push_back(std::move(one));
  }
  return list;
}

}  // namespace

std::span<const ToxicElement> toxic_elements() {
  static const std::vector<ToxicElement> all = read_toxic_elements();
  return all;
}

const ToxicElement* find_toxic_element(std::string_view symbol) {
  const auto all = toxic_elements();
  const auto found = std::ranges::find(all, symbol, &ToxicElement::symbol);
  return found == all.end() ? nullptr : &*found;
}

}  // namespace leastwise
