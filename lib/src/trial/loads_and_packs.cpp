#include "trial/loads_and_packs.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "base/text/wording.hpp"
#include "trial/mass.hpp"
#include "trial/mixer_load.hpp"
#include "trial/rounding_repair.hpp"
#include "trial/whole_packs.hpp"

namespace leastwise::trial {
namespace {

/// More loads than this of one treatment are nobody's plan.
constexpr double most_loads = 1000;

std::int64_t mass_of(const Packing& packing) {
  return std::accumulate(packing.masses_mg.begin(), packing.masses_mg.end(), std::int64_t{0});
}

void note_coarse_pack(const Trial& trial, const Plot& plot, const Packing& packing,
                      std::int64_t pack_mg, TreatmentPlan& plan) {
  const double shift = 100 * (static_cast<double>(pack_mg) - packing.target_mg) / packing.target_mg;
  if (std::abs(shift) <= 1) return;
  const std::string& site = trial.sites()[plot.site].name;
  plan.notes.push_back({NoteLevel::warning,
                        NoteCode::pack_rounded,
                        {site},
                        "a plot of " + site + " takes " +
                            rounded_text(packing.target_mg / mg_per_g) + " g, which the balance " +
                            packing.balance + " rounds by " + rounded_text(shift) +
                            " %: weigh the packs on a finer balance"});
}

/// The group of plots of that site and size; a new one the first time.
PlotGroup& group_of(const Plot& plot, TreatmentPlan& plan, bool& is_new) {
  const auto known = std::ranges::find_if(plan.by_size, [&](const PlotGroup& group) {
    return group.site == plot.site && group.area_m2 == plot.area_m2;
  });
  is_new = known == plan.by_size.end();
  if (!is_new) return *known;
  plan.by_size.push_back({plot.site, 0, plot.area_m2, 0});
  return plan.by_size.back();
}

std::vector<PlotMass> masses_of(const std::vector<Plot>& plots, const TreatmentDraftPlan& draft) {
  std::vector<PlotMass> masses;
  std::pair<std::size_t, int> last{};
  for (std::size_t p = 0; p < draft.plots.size(); ++p) {
    const Plot& plot = plots[draft.plots[p]];
    const std::pair here{plot.site, plot.replicate};
    const int before = masses.empty() ? 0 : masses.back().block;
    masses.push_back({mass_of(draft.packings[p]), here == last ? before : before + 1});
    last = here;
  }
  return masses;
}

/// Fills packs from the loads of a treatment in turn. Every load gives an equal part to the plots;
/// the rest of it is its part of the spare, which covers its own losses.
class LoadsInTurn {
 public:
  LoadsInTurn(std::int64_t packs_mg, std::size_t loads)
      : packs_mg_(packs_mg), loads_(static_cast<std::int64_t>(loads)) {}

  /// What the next pack takes of each load.
  std::vector<PackSource> take(std::int64_t mass_mg) {
    std::vector<PackSource> sources;
    while (load_ + 1 < loads_ && end_of(load_) <= taken_mg_) ++load_;
    std::int64_t missing = mass_mg;
    for (;;) {
      const bool last = load_ + 1 == loads_;
      const std::int64_t part = last ? missing : std::min(missing, end_of(load_) - taken_mg_);
      if (part > 0 || sources.empty()) sources.push_back({static_cast<std::size_t>(load_), part});
      taken_mg_ += part;
      missing -= part;
      if (missing <= 0) return sources;
      ++load_;
    }
  }

 private:
  /// What the loads up to and with this one give to the plots; no product here can overflow.
  [[nodiscard]] std::int64_t end_of(std::int64_t load) const {
    return packs_mg_ / loads_ * (load + 1) + packs_mg_ % loads_ * (load + 1) / loads_;
  }

  std::int64_t packs_mg_;
  std::int64_t loads_;
  std::int64_t load_ = 0;
  std::int64_t taken_mg_ = 0;
};

std::int64_t rounded_up(double mg) {
  return std::max<std::int64_t>(1, static_cast<std::int64_t>(std::ceil(mg * (1 - 1e-15))));
}

/// How the packs are shared out to `loads` loads, and what each load must weigh without its sample.
struct Sharing {
  std::vector<std::size_t> load_of_plot{};
  std::int64_t loads = 1;
  std::int64_t share_mg = 0;
};

Sharing shared(const std::vector<PlotMass>& plots, std::int64_t packs_mg, std::int64_t loads,
               double most_mg, double with_spare) {
  // One load more than there must be, if that keeps packs whole.
  for (std::int64_t count = loads; loads > 1 && count <= loads + 1; ++count) {
    if (auto whole = whole_packs(plots, static_cast<std::size_t>(count), most_mg)) {
      const auto used = static_cast<std::int64_t>(whole->load_of_plot.back()) + 1;
      return {std::move(whole->load_of_plot), used,
              rounded_up(static_cast<double>(whole->largest_mg) * with_spare)};
    }
  }
  const std::int64_t needed = rounded_up(static_cast<double>(packs_mg) * with_spare);
  return {{}, loads, (needed + loads - 1) / loads};
}

void note_loads_that_meet(const TreatmentDraftPlan& draft, TreatmentPlan& plan) {
  if (plan.batch_codes.size() < 2 || !draft.load_of_plot.empty()) return;
  plan.notes.push_back({NoteLevel::info,
                        NoteCode::loads_meet,
                        {},
                        "loads do not hold whole packs with these mixers: some packs are filled "
                        "from two or more loads, as the plot list and the labels say"});
}

void name_batches(const Trial& trial, std::int64_t loads, TreatmentPlan& plan) {
  plan.batch_codes.clear();
  for (std::int64_t i = 1; i <= loads; ++i) {
    plan.batch_codes.push_back((trial.code().empty() ? "" : trial.code() + "-") + plan.code + "-B" +
                               std::to_string(i));
  }
}

}  // namespace

void plan_packs(const Trial& trial, const std::vector<Plot>& plots, TreatmentDraftPlan& draft,
                TreatmentPlan& plan) {
  const double density = bulk_density_kg_per_m3(*draft.treatment->scenario, draft.product);
  plan.bulk_density_kg_per_m3 = density;
  plan.packs_mg = 0;
  plan.by_size.clear();
  draft.packings.clear();
  std::erase_if(plan.notes, [](const Note& note) { return note.code == NoteCode::pack_rounded; });
  for (const std::size_t p : draft.plots) {
    const Plot& plot = plots[p];
    bool is_new = false;
    PlotGroup& group = group_of(plot, plan, is_new);
    if (is_new) {
      const double target = plan.product_kg_per_ha * plot.area_m2 * mg_per_kg_per_ha_m2;
      draft.packings.push_back(packing_of(trial, target, density));
      group.pack_mg = mass_of(draft.packings.back());
      note_coarse_pack(trial, plot, draft.packings.back(), group.pack_mg, plan);
    } else {
      const auto same = std::ranges::find_if(draft.plots, [&](std::size_t other) {
        return plots[other].site == plot.site && plots[other].area_m2 == plot.area_m2;
      });
      draft.packings.push_back(
          draft.packings[static_cast<std::size_t>(same - draft.plots.begin())]);
    }
    ++group.plots;
    plan.packs_mg += group.pack_mg;
  }
}

bool plan_loads(const Trial& trial, const std::vector<Plot>& plots,
                const std::vector<StockMix>& mixes, TreatmentDraftPlan& draft,
                TreatmentPlan& plan) {
  const double with_spare = 1 + trial.spare_percent() / 100;
  const double sample = trial.sample_g() * mg_per_g;
  const double needed = static_cast<double>(plan.packs_mg) * with_spare;
  const Mixer& mixer =
      mixer_for(trial.mixers(), (needed + sample) / mg_per_kg, plan.bulk_density_kg_per_m3);
  plan.mixer = mixer.name;
  plan.mixer_kind = mixer.kind;
  const double capacity =
      capacity_kg(mixer.capacity_kg, mixer.capacity_litres, plan.bulk_density_kg_per_m3) *
      mg_per_kg;
  const double count = std::ceil(needed / (capacity - sample) - 1e-9);
  if (capacity <= sample || count > most_loads) return false;
  const auto masses = masses_of(plots, draft);
  // A load that rounding lifts over the capacity is split once more; balances may be so coarse
  // that this never ends, so it is tried a few times only and a note tells the rest.
  constexpr int most_tries = 4;
  auto loads = std::max<std::int64_t>(1, static_cast<std::int64_t>(count));
  Sharing sharing;
  for (int tries = 0; tries < most_tries; ++tries, ++loads) {
    sharing = shared(masses, plan.packs_mg, loads, (capacity - sample) / with_spare, with_spare);
    plan.weighings = rounded_load(trial, *draft.treatment->scenario, draft.product, draft.uses,
                                  mixes, sharing.share_mg + static_cast<std::int64_t>(sample));
    draft.share_mg = sharing.share_mg + static_cast<std::int64_t>(sample);
    repair_rounding(draft, mixes, plan);
    split_weighings(trial.balances(), plan.weighings);
    plan.load_mg = mass_of_load(plan.weighings);
    if (static_cast<double>(plan.load_mg) <= capacity * (1 + 1e-9)) break;
  }
  std::erase_if(plan.notes, [](const Note& note) {
    return note.code == NoteCode::load_over_capacity || note.code == NoteCode::loads_meet;
  });
  if (static_cast<double>(plan.load_mg) > capacity * (1 + 1e-9)) {
    plan.notes.push_back({NoteLevel::warning,
                          NoteCode::load_over_capacity,
                          {mixer.name},
                          "the balances are too coarse to keep a load within the capacity of the "
                          "mixer " +
                              mixer.name});
  }
  draft.load_of_plot = std::move(sharing.load_of_plot);
  plan.total_mg = plan.load_mg * sharing.loads;
  plan.spare_mg = plan.total_mg - plan.packs_mg;
  name_batches(trial, sharing.loads, plan);
  note_loads_that_meet(draft, plan);
  return true;
}

void fill_packs(const Trial& trial, const TreatmentDraftPlan& draft, const TreatmentPlan& plan,
                std::vector<Plot>& plots) {
  const std::string application =
      trial.applications().empty() ? "" : "-A" + std::to_string(plan.application + 1);
  LoadsInTurn in_turn(plan.packs_mg, plan.batch_codes.size());
  for (std::size_t p = 0; p < draft.plots.size(); ++p) {
    Plot& plot = plots[draft.plots[p]];
    const Packing& packing = draft.packings[p];
    plot.container = packing.container;
    plot.balance = packing.balance;
    plot.readability_mg = packing.readability_mg;
    for (std::size_t i = 0; i < packing.masses_mg.size(); ++i) {
      const std::string part =
          packing.masses_mg.size() > 1 ? "/" + std::to_string(i + 1) : std::string();
      Pack pack;
      pack.label = plot.code + application + part;
      pack.mass_mg = packing.masses_mg[i];
      pack.sources = draft.load_of_plot.empty()
                         ? in_turn.take(pack.mass_mg)
                         : std::vector<PackSource>{{draft.load_of_plot[p], pack.mass_mg}};
      pack.first_load = pack.sources.front().load;
      pack.last_load = pack.sources.back().load;
      plot.packs.push_back(std::move(pack));
    }
  }
}

double rate_on_plots(const TreatmentPlan& plan) {
  return static_cast<double>(plan.packs_mg) / (plan.area_m2 * mg_per_kg_per_ha_m2);
}

}  // namespace leastwise::trial
