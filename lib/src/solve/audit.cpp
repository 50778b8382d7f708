#include "solve/audit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string_view>

namespace leastwise::insight {
namespace {

constexpr double unlimited = std::numeric_limits<double>::infinity();

/// Collects violations of one blend.
class Audit {
 public:
  Audit(const Scenario& scenario, const std::vector<double>& kg) : scenario_(scenario), kg_(kg) {
    for (std::size_t i = 0; i < kg.size(); ++i) {
      total_ += scenario.mass_factor(i) * kg[i];
      largest_ = std::max(largest_, kg[i]);
    }
  }

  double worst() {
    amounts();
    targets();
    guards();
    materials();
    families();
    return worst_;
  }

 private:
  [[nodiscard]] bool used(std::size_t i) const { return kg_[i] > 1e-9 * largest_; }

  void within(double value, const Limits& limits, double size) {
    if (limits.has_min()) miss(limits.min - value, std::max(size, std::fabs(limits.min)));
    if (limits.has_max()) miss(value - limits.max, std::max(size, std::fabs(limits.max)));
  }
  void miss(double amount, double size) {
    if (std::isnan(amount)) worst_ = unlimited;
    if (amount > 0) worst_ = std::max(worst_, size > 0 ? amount / size : unlimited);
  }
  [[nodiscard]] double sum(const std::vector<double>& percent) const {
    double s = 0;
    for (std::size_t i = 0; i < kg_.size(); ++i) s += percent[i] / 100 * kg_[i];
    return s;
  }

  /// What a minimum and a maximum count, with the safety margin of a stated confidence.
  [[nodiscard]] static double least_content(const Target& target, std::size_t i) {
    const double margin = target.margin_percent.empty() ? 0 : target.margin_percent[i];
    return std::max(target.content_percent[i] - margin, 0.0);
  }
  [[nodiscard]] double most_amount(const Target& target) const {
    double amount = sum(target.content_percent);
    if (!target.margin_percent.empty()) amount += sum(target.margin_percent);
    return amount;
  }

  void amounts() {
    double granules = 0;
    double coating = 0;
    for (std::size_t i = 0; i < kg_.size(); ++i) {
      if (kg_[i] < 0 || (!scenario_.materials()[i].can_enter() && kg_[i] > 0)) worst_ = unlimited;
      if (scenario_.materials()[i].form_used() == Form::powder)
        coating += scenario_.mass_factor(i) * kg_[i];
      else
        granules += kg_[i];
    }
    miss(coating - scenario_.coating_max_percent() / 100 * granules, std::max(coating, 1e-9));
    if (scenario_.basis() == Basis::per_tonne)
      within(total_, {1000, 1000}, 1000);
    else
      within(total_, scenario_.total_kg_per_ha(), total_);
  }

  void targets() {
    for (const auto& rate : scenario_.rates()) {
      double effective = 0;
      for (std::size_t i = 0; i < kg_.size(); ++i)
        effective += least_content(rate, i) / 100 * rate.reach[i] * kg_[i];
      within(effective, {rate.limits.min, unlimited}, 0);
      within(most_amount(rate), {-unlimited, rate.limits.max}, 0);
    }
    // Limits on a composition are compared as amounts, so that a blend of nothing breaks none.
    for (const auto& grade : scenario_.grades()) {
      double least = 0;
      for (std::size_t i = 0; i < kg_.size(); ++i) least += least_content(grade, i) / 100 * kg_[i];
      within(least, {grade.limits.min / 100 * total_, unlimited}, least);
      const double most = most_amount(grade);
      if (grade.limits.has_max())
        within(most, {-unlimited, grade.limits.max / 100 * total_}, most + 1e-7 * total_);
    }
    for (const auto& ratio : scenario_.ratios()) {
      const double of = sum(ratio.of_percent);
      const double to = sum(ratio.to_percent);
      if (ratio.limits.has_min()) miss(ratio.limits.min * to - of, of + ratio.limits.min * to);
      if (ratio.limits.has_max())
        miss(of - ratio.limits.max * to, of + ratio.limits.max * to + 1e-7 * total_);
    }
  }

  void guards() {
    for (const auto& unasked : scenario_.unasked())
      if (kg_[unasked.material] > 0) worst_ = unlimited;
    for (const auto& ceiling : scenario_.ceilings())
      within(sum(ceiling.content_percent), {-unlimited, ceiling.kg_per_ha}, 0);
  }

  void materials() {
    int granular = 0;
    for (std::size_t i = 0; i < kg_.size(); ++i) {
      const auto& material = scenario_.materials()[i];
      if (used(i) && material.form_used() == Form::granule) ++granular;
      if (!material.can_enter()) continue;
      const auto& share = material.share_percent;
      if (share.has_min()) miss(share.min / 100 * total_ - kg_[i], share.min / 100 * total_);
      if (share.has_max()) miss(kg_[i] - share.max / 100 * total_, std::max(kg_[i], 1e-9 * total_));
      if (used(i))
        miss(material.min_if_used_percent / 100 * total_ - kg_[i],
             material.min_if_used_percent / 100 * total_);
      if (material.stock_kg) stock(*material.stock_kg, kg_[i]);
    }
    if (scenario_.bins() && granular > *scenario_.bins()) worst_ = unlimited;
  }

  void stock(double stock_kg, double kg) {
    double needed = 0;
    if (scenario_.make_hectares()) needed = kg * *scenario_.make_hectares();
    if (scenario_.make_tonnes() && total_ > 0)
      needed = kg / total_ * 1000 * *scenario_.make_tonnes();
    miss(needed - stock_kg, std::max(needed, stock_kg));
  }

  void families() {
    const auto in_use = [&](std::string_view family) {
      for (std::size_t i = 0; i < kg_.size(); ++i)
        if (used(i) && scenario_.materials()[i].family == family) return true;
      return false;
    };
    for (const auto& pair : scenario_.exclusions())
      if (in_use(pair.family_a) && in_use(pair.family_b)) worst_ = unlimited;
  }

  const Scenario& scenario_;
  const std::vector<double>& kg_;
  double total_ = 0;
  double largest_ = 0;
  double worst_ = 0;
};

}  // namespace

double audit(const Scenario& scenario, const std::vector<double>& kg) {
  return Audit(scenario, kg).worst();
}

}  // namespace leastwise::insight
