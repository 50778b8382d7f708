#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <functional>
#include <iterator>

#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"

namespace leastwise::report {
namespace {

/// Why a material stays out, where no price of its own brings it in.
std::string_view why_in_words(std::string_view why) {
  if (why == "form") return "Their form cannot enter a granular blend";
  if (why == "exclusion") return "Kept apart from a material in the blend";
  if (why == "bins") return "No bin is left for them";
  if (why == "minimum lot") return "Their least lot is too much";
  if (why == "minimum if used") return "Their least usable share is too much";
  if (why == "limits") return "The limits leave no room for them";
  if (why == "unasked micronutrient")
    return "No rule asks for a micronutrient they carry; give it a minimum, or the material a "
           "share_percent with a min, to let them in";
  return {};
}

/// The same, with what is known of an entry price where there is none to print.
std::string why_unpriced(const UnusedMaterial& unused) {
  const std::string why(why_in_words(unused.why));
  if (unused.enters_below_price_per_t.is_none())
    return why.empty() ? "At no price would they be used" : why;
  return why.empty() ? "Their entry price was not computed"
                     : why + "; an entry price was not computed";
}

/// How near a material is to the blend: 1 when it is about to enter.
double nearness(const UnusedMaterial& unused) {
  return unused.price_per_t > 0 ? *unused.enters_below_price_per_t / unused.price_per_t : 0;
}

/// The materials with an entry price, the nearest first.
std::vector<UnusedMaterial> by_nearness(const Blend& blend) {
  std::vector<UnusedMaterial> priced;
  std::ranges::copy_if(blend.unused, std::back_inserter(priced), [](const UnusedMaterial& unused) {
    return unused.enters_below_price_per_t.has_value();
  });
  std::ranges::stable_sort(priced, std::ranges::greater{}, nearness);
  return priced;
}

void write_priced(Page& page, const Blend& blend) {
  constexpr std::size_t longest_list = 20;
  std::vector<UnusedMaterial> priced = by_nearness(blend);
  if (priced.empty()) return;
  const std::size_t more = priced.size() > longest_list ? priced.size() - longest_list : 0;
  priced.resize(priced.size() - more);
  Table table;
  table.add_words("material");
  const std::string t(unit_name(Measure::goods, blend.units));
  table.add_numbers("price now, " +
                    (blend.currency.empty() ? "per " + t : blend.currency + "/" + t));
  table.add_numbers("enters below");
  for (const UnusedMaterial& unused : priced) {
    table.add_row({unused.material, money_text(unused.price_per_t),
                   money_text(*unused.enters_below_price_per_t)});
  }
  page.table(table);
  if (more > 0) page.item("  ", fmt::format("and {} more that are farther away.", more));
}

/// The materials without an entry price: a sentence for each reason.
void write_unpriced(Page& page, const Blend& blend) {
  std::vector<std::string> reasons;
  for (const UnusedMaterial& unused : blend.unused) {
    const std::string why = why_unpriced(unused);
    if (!unused.enters_below_price_per_t && std::ranges::find(reasons, why) == reasons.end()) {
      reasons.push_back(why);
    }
  }
  for (const std::string& reason : reasons) {
    std::vector<std::string_view> names;
    for (const UnusedMaterial& unused : blend.unused) {
      if (!unused.enters_below_price_per_t && why_unpriced(unused) == reason) {
        names.push_back(unused.material);
      }
    }
    page.item("  ", fmt::format("{}: {}.", reason, fmt::join(names, ", ")));
  }
}

}  // namespace

void write_unused(Page& page, const Blend& blend) {
  if (blend.unused.empty()) return;
  page.heading("Left out");
  write_priced(page, blend);
  write_unpriced(page, blend);
}

}  // namespace leastwise::report
