#include "report/trial/trial_sheet_size.hpp"

#include <string>

#include "report/trial/trial_applications.hpp"
#include "report/trial/trial_solutions.hpp"
#include "report/trial/trial_tables.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise::report {
namespace {

// Millimetres, as a browser sets the sheets in wide letters (DejaVu Sans), of which fewer go into a
// line than of others: measured in Chromium.
constexpr double a4_mm = 297 - 2 * 9 - 4;  // within its margins
constexpr double us_letter_mm = 279.4 - 2 * 9 - 4;
constexpr double head_mm = 14;
constexpr double heading_mm = 9.3;
constexpr double row_mm = 11.2;    // a weighing, with what is said of it in small letters
constexpr double table_mm = 19.7;  // headings, the row of the load, the sentence below
constexpr double small_line_mm = 3.7;
constexpr double sign_mm = 9.5;
constexpr double small_letters = 120;  // in a line

/// What letters of one size take.
struct Letters {
  double line_mm = 0;
  double in_a_line = 0;
  double between_items_mm = 0;
};
constexpr Letters plain_letters{4.85, 86, 0.9};
constexpr Letters large_letters{5.73, 72, 1.8};

/// Adds up what stands on a sheet.
class Height {
 public:
  explicit Height(const Letters& letters) : letters_(letters) {}

  void add(double mm) { mm_ += mm; }
  void add_text(std::size_t letters) {
    mm_ += letters_.line_mm * lines(letters, letters_.in_a_line) + 1;
  }
  void add_small(std::size_t letters) { mm_ += small_line_mm * lines(letters, small_letters) + 1; }
  void add_item(std::size_t letters) {
    constexpr std::size_t box = 6;  // as wide as so many letters
    mm_ += letters_.line_mm * lines(letters + box, letters_.in_a_line) + letters_.between_items_mm;
  }
  [[nodiscard]] double mm() const { return mm_; }

 private:
  static double lines(std::size_t letters, double in_a_line) {
    return static_cast<double>(1 +
                               static_cast<std::size_t>(static_cast<double>(letters) / in_a_line));
  }
  Letters letters_;
  double mm_ = 0;
};

void add_head(const TrialPlan& plan, const TreatmentPlan& treatment, Height& height) {
  constexpr std::size_t sums = 82;  // letters of the sentence on all loads
  height.add(head_mm);
  height.add_text(plan.title.size());
  if (!plan.applications.empty()) height.add_text(1);
  height.add(7);  // the load
  height.add_text(sums);
  for (const auto& line : by_hand(plan, treatment)) height.add_small(line.size());
  for (const auto& line : spray_lines(plan, treatment)) height.add_text(line.size() + 20);
  if (!treatment.hazards.empty()) height.add(7);
  height.add_text(1);  // by which day
}

void add_weighing(const TreatmentPlan& treatment, Height& height) {
  if (!treatment.stop_conditions.empty()) height.add(heading_mm);
  for (const auto& note : treatment.stop_conditions) height.add_item(note.text.size() + 8);
  if (!treatment.cautions.empty()) height.add(heading_mm);
  for (const auto& note : treatment.cautions) height.add_item(note.text.size());
  height.add(heading_mm + table_mm + row_mm * static_cast<double>(treatment.weighings.size()));
  if (!treatment.coating) return;
  std::size_t letters = 0;
  for (const auto& line : coating_lines(*treatment.coating)) letters += line.size() + 2;
  height.add(heading_mm);
  height.add_text(letters);
}

void add_work(const TreatmentPlan& treatment, std::size_t packs, Height& height) {
  constexpr std::size_t minutes = 8;  // letters
  constexpr std::size_t a_pack = 26;  // `ZB-UT-102 392.71 g; `
  constexpr std::size_t a_nutrient = 20;
  height.add(heading_mm);
  for (const auto& step : treatment.order_of_work) height.add_item(step.text.size() + minutes);
  height.add_text(a_pack * packs);
  height.add_small(a_nutrient * (treatment.nutrients.size() + 2));
  height.add(sign_mm);
}

double height_of(const TrialPlan& plan, const TreatmentPlan& treatment, std::size_t packs,
                 const Letters& letters) {
  Height height(letters);
  add_head(plan, treatment, height);
  add_weighing(treatment, height);
  add_work(treatment, packs, height);
  return height.mm();
}

}  // namespace

SheetSize sheet_size(const TrialPlan& plan, const TreatmentPlan& treatment, std::size_t packs,
                     Paper paper) {
  const double room = paper == Paper::a4 ? a4_mm : us_letter_mm;
  if (height_of(plan, treatment, packs, large_letters) <= room) return SheetSize::roomy;
  if (height_of(plan, treatment, packs, plain_letters) <= room) return SheetSize::plain;
  return SheetSize::parted;
}

std::string_view class_of(SheetSize size) {
  switch (size) {
    case SheetSize::roomy:
      return "roomy";
    case SheetSize::plain:
      return "plain";
    case SheetSize::parted:
      break;
  }
  return "parted";
}

}  // namespace leastwise::report
