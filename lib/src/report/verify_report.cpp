#include <leastwise/verify.hpp>

#include "report/answers.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/answer_json.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/sections.hpp"

namespace leastwise::report {

std::string text_of(const Verification& verification) {
  std::string line(to_string(verification.verdict));
  if (!verification.detail.empty()) line += ": " + printable(verification.detail);
  return line + "\n";
}

std::string json_of(const Verification& verification) {
  Json json{{"leastwise", 1},
            {"report", "verification"},
            {"verdict", to_string(verification.verdict)},
            {"detail", verification.detail}};
  if (verification.verdict == ProofVerdict::stopped) json["cause"] = to_string(verification.cause);
  return json_text(json);
}

std::string csv_of(const Verification& verification) {
  return csv_line({"verdict", "detail"}) +
         csv_line({std::string(to_string(verification.verdict)), verification.detail});
}

Page page_of(const Verification& verification) {
  Page page(Medium::html);
  page.title("Check of a proof");
  const std::string verdict = capitalised(std::string(to_string(verification.verdict))) + ".";
  if (verification.verdict == ProofVerdict::not_proved ||
      verification.verdict == ProofVerdict::stopped)
    page.warning(verdict);
  else
    page.paragraph(verdict);
  if (!verification.detail.empty())
    page.paragraph(with_full_stop(capitalised(verification.detail)));
  return without_goods(std::move(page));
}

}  // namespace leastwise::report
