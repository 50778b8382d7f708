#include "scenario/lot_analysis.hpp"

#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <set>
#include <string_view>
#include <utility>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "scenario/contents.hpp"

namespace leastwise {
namespace {

/// Whether both state the same thing: one name, or oxide and element.
bool are_same(std::string_view a, std::string_view b) {
  return a == b || (element_of(a) && element_of(a) == element_of(b));
}

/// The lot of one material, applied content by content.
class LotAnalysis {
 public:
  LotAnalysis(const MaterialDraft& draft, std::string path, Material& material, Checks& checks,
              DiagnosticSink& diagnostics, std::vector<Note>& notes)
      : draft_(draft),
        path_(std::move(path)),
        material_(material),
        checks_(checks),
        diagnostics_(diagnostics),
        notes_(notes) {}

  void apply();

 private:
  void apply(const std::vector<Content>& lot, std::string_view key, bool replaces_only);
  [[nodiscard]] bool may_be_used(const Content& content, const std::string& place);
  void replace_or_add(const Content& content);
  void scale_forms(std::string_view nutrient, double factor);
  void complain_of_absent(const Content& content, const std::string& place);
  [[nodiscard]] bool is_stated(std::string_view name) const { return stated_.contains(name); }

  const MaterialDraft& draft_;
  std::string path_;
  Material& material_;
  Checks& checks_;
  DiagnosticSink& diagnostics_;
  std::vector<Note>& notes_;
  std::set<std::string_view> stated_{};  ///< names that the lot states
  bool good_ = true;
};

bool LotAnalysis::may_be_used(const Content& content, const std::string& place) {
  const std::string what = in_quotes(content.name) + " of material " + in_quotes(material_.name);
  if (!checks_.content_name(place, content.name) ||
      !checks_.number(place, what, content.percent, content_range(content.name)))
    return false;
  const auto same = [&](std::string_view other) { return are_same(other, content.name); };
  const auto other = std::ranges::find_if(stated_, same);
  if (other == stated_.end()) return true;
  diagnostics_.error(codes::stated_twice, place,
                     what + " must be stated once, found it as " + in_quotes(*other) + " too");
  return false;
}

void LotAnalysis::complain_of_absent(const Content& content, const std::string& place) {
  Suggestion suggestion(content.name);
  for (const Content& known : material_.contains_percent) suggestion.offer(known.name);
  diagnostics_.error(
      codes::not_contained, place,
      "analysis_percent replaces what a material contains, and " + in_quotes(material_.name) +
          " has no " + in_quotes(content.name) +
          (suggestion.best() ? suggestion.question() : "; to add it write contains_also_percent"));
}

/// Forms keep their share of a nutrient that has another content in this lot.
void LotAnalysis::scale_forms(std::string_view nutrient, double factor) {
  const auto element = element_of(nutrient);
  std::vector<std::string> forms;
  for (Content& content : material_.contains_percent) {
    const auto parent = parent_of_form(content.name);
    if (!parent || element_of(*parent) != element || is_stated(content.name)) continue;
    content.percent *= factor;
    forms.push_back(content.name + " " + rounded_text(content.percent));
  }
  if (forms.empty() || factor == 1) return;
  std::string list;
  for (const std::string& form : forms) list += (list.empty() ? "" : ", ") + form;
  notes_.push_back({NoteLevel::info,
                    NoteCode::forms_follow,
                    {material_.name, std::string(nutrient)},
                    "the forms of " + std::string(nutrient) + " of " + in_quotes(material_.name) +
                        " keep their share of what its lot holds: " + list + " %",
                    {}});
}

void LotAnalysis::replace_or_add(const Content& content) {
  auto& contents = material_.contains_percent;
  const auto known = std::ranges::find_if(
      contents, [&](const Content& other) { return are_same(other.name, content.name); });
  if (known == contents.end()) {
    contents.push_back(content);
    return;
  }
  const double before = known->percent * conversion_factor(known->name, content.name).value_or(1);
  *known = content;
  if (before > 0) scale_forms(content.name, content.percent / before);
}

void LotAnalysis::apply(const std::vector<Content>& lot, std::string_view key, bool replaces_only) {
  const std::string list = below(path_, key);
  if (diagnostics_.touched(list)) {
    good_ = false;
    return;
  }
  std::vector<Content> usable;
  for (const Content& content : lot) {
    const std::string place = below(list, content.name);
    bool use = may_be_used(content, place);
    stated_.insert(content.name);
    const bool absent = std::ranges::none_of(material_.contains_percent, [&](const Content& other) {
      return are_same(other.name, content.name);
    });
    if (use && replaces_only && absent) {
      complain_of_absent(content, place);
      use = false;
    }
    if (use) usable.push_back(content);
    good_ = good_ && use;
  }
  for (const Content& content : usable) replace_or_add(content);
}

void LotAnalysis::apply() {
  if (draft_.contains_percent) {
    const std::string_view key =
        draft_.contains_also_percent ? "contains_also_percent" : "analysis_percent";
    diagnostics_.error(
        codes::contents_and_formula, below(path_, key),
        std::string(key) + " changes what the catalogue or a formula says, and material " +
            in_quotes(material_.name) + " states contains_percent itself; write it there");
    return;
  }
  if (draft_.analysis_percent) apply(*draft_.analysis_percent, "analysis_percent", true);
  if (draft_.contains_also_percent)
    apply(*draft_.contains_also_percent, "contains_also_percent", false);
  const std::string_view key =
      draft_.contains_also_percent ? "contains_also_percent" : "analysis_percent";
  if (good_)
    check_contents(material_.contains_percent, below(path_, key), material_.name, checks_,
                   diagnostics_);
}

}  // namespace

void apply_lot_analysis(const MaterialDraft& draft, const std::string& path, Material& material,
                        Checks& checks, DiagnosticSink& diagnostics, std::vector<Note>& notes) {
  if (!draft.contains_also_percent && !draft.analysis_percent) return;
  LotAnalysis(draft, path, material, checks, diagnostics, notes).apply();
}

}  // namespace leastwise
