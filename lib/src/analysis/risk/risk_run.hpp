#pragma once
#include <leastwise/risk.hpp>

#include <atomic>
#include <cstddef>
#include <functional>
#include <mutex>
#include <optional>
#include <vector>

#include "analysis/risk/risk_draws.hpp"
#include "analysis/risk/risk_search.hpp"

namespace leastwise::analysis {

/// Sums over the draws of one material's price, taken from today's price.
struct PriceSum {
  double sum = 0;
  double squares = 0;
};

/// How many threads to use.
[[nodiscard]] unsigned threads_of(const RiskOptions& options);

/// Solves all draws, on one thread or many.
///
/// The draws are dealt out by their number alone: a few are solved first, what they found is copied
/// to a fixed number of streams, and each stream takes its own draws in order. Threads only take
/// turns at streams, so that no answer depends on how many there are.
class RiskRun {
 public:
  RiskRun(const Scenario& scenario, const PriceUncertainty& uncertainty, const PriceModel& shared,
          const std::vector<double>& today, const solver::SearchOptions& search,
          const RiskOptions& options);

  void run();

  /// Those that are finished; recipes count in the run's own list.
  [[nodiscard]] const std::vector<RiskDraw>& draws() const { return draws_; }
  [[nodiscard]] std::vector<RiskDraw> take_draws() { return std::move(draws_); }
  /// As columns of the model.
  [[nodiscard]] const std::vector<std::vector<double>>& recipes() const { return first_.recipes(); }
  [[nodiscard]] std::size_t recipe_of(const std::vector<double>& x) { return first_.recipe_of(x); }
  [[nodiscard]] const std::vector<PriceSum>& price_sums() const { return price_sums_; }
  [[nodiscard]] long prices_at_zero() const { return at_zero_; }
  [[nodiscard]] long searches() const { return searches_; }
  /// Why not every draw is finished.
  [[nodiscard]] std::optional<solver::SearchStatus> stopped() const { return stopped_; }

 private:
  struct Stream {
    std::size_t from = 0;
    std::size_t to = 0;
    std::size_t end = 0;  ///< of those that are finished
    std::vector<PriceSum> price_sums{};
    long at_zero = 0;
    long searches = 0;
    std::vector<std::vector<double>> recipes{};
    std::optional<solver::SearchStatus> stopped{};
  };
  void solve(Stream& stream, PriceSearch& search);
  [[nodiscard]] double reprice(const std::vector<double>& change_per_kg,
                               std::vector<double>& cost) const;
  [[nodiscard]] static std::optional<solver::SearchStatus> settle(const PriceSearch::Answer& answer,
                                                                  RiskDraw& drawn);
  void collect(const Stream& stream);
  void close_gaps(const std::vector<Stream>& streams);
  void tell(std::size_t finished);
  [[nodiscard]] bool out_of_time(Stream& stream) const;

  const Scenario& scenario_;
  const PriceModel& shared_;
  const std::vector<double>& today_;
  const solver::SearchOptions& search_options_;
  const RiskOptions& options_;
  PriceDraws prices_;
  PriceSearch first_;
  std::vector<RiskDraw> draws_;
  std::vector<PriceSum> price_sums_;
  long at_zero_ = 0;
  long searches_ = 0;
  std::optional<solver::SearchStatus> stopped_{};
  std::atomic<std::size_t> finished_{0};
  std::atomic<bool> give_up_{false};
  std::mutex telling_{};
};

}  // namespace leastwise::analysis
