#include "chemistry/hazard/binder_nature.hpp"

#include <leastwise/hazard.hpp>

#include <functional>
#include <map>

#include "chemistry/hazard/folded_name.hpp"
#include "chemistry/hazard/hazard_table.hpp"
#include "chemistry/materials/binders.hpp"

namespace leastwise {

const BinderKind* binder_called(std::string_view name) {
  using ByKey = std::map<std::string, const BinderKind*, std::less<>>;
  static const ByKey by_key = [] {
    ByKey keys;
    for (const auto& binder : built_in_binders()) keys.emplace(folded_key(binder.name), &binder);
    return keys;
  }();
  const auto found = by_key.find(folded_key(name));
  return found == by_key.end() ? nullptr : found->second;
}

BinderEvidence evidence_on_binder(std::string_view name) {
  BinderEvidence evidence;
  const FoldedName folded = folded_name(name);
  if (const BinderKind* binder = binder_called(name)) {
    evidence.nature = binder->nature;
    evidence.reason = "the table of binders says so";
  }
  evidence.alkaline = folded.letters.find("silica") != std::string::npos ||
                      folded.letters.find("silika") != std::string::npos;
  evidence.chloride = folded.letters.find("chlorid") != std::string::npos;
  if (evidence.nature == BinderNature::unknown && folded.is_foreign) {
    evidence.nature = BinderNature::organic;
    evidence.reason = "its name is in letters in which no words of oils are known here";
  }
  constexpr bool beside_nitrogen = false;
  constexpr bool as_binder = true;
  for (const auto* row : rows_of_name(folded, beside_nitrogen, as_binder)) {
    if (!row->has_hazard) continue;
    if (row->kind == HazardClass::alkaline) evidence.alkaline = true;
    const bool organic = row->kind == HazardClass::fuel || row->kind == HazardClass::urea ||
                         row->kind == HazardClass::refused || row->kind == HazardClass::reducer;
    if (!organic || evidence.nature != BinderNature::unknown) continue;
    evidence.nature = BinderNature::organic;
    evidence.reason = "its name says '" + row->text + "'";
  }
  return evidence;
}

BinderNature nature_of_binder(std::string_view binder) { return evidence_on_binder(binder).nature; }

}  // namespace leastwise
