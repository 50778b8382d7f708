#include <leastwise/trial_report.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "report/kit/markup.hpp"
#include "report/trial/trial_words.hpp"
#include "samples.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

std::size_t count(std::string_view text, std::string_view word) {
  std::size_t found = 0;
  for (std::size_t at = text.find(word); at != std::string_view::npos;
       at = text.find(word, at + word.size())) {
    ++found;
  }
  return found;
}

TrialPlan two_treatments() {
  TreatmentDraft control;
  control.name = "control <none> & \"nothing\"";
  TrialDraft draft = small_trial({control, solved("starter", starter())});
  draft.seed = 3;
  draft.spare_percent = 10;
  draft.bags = {{"default", 25}};
  return plan_trial(Trial(draft));
}

}  // namespace

TEST_SUITE("reports of a trial") {
  TEST_CASE("masses are printed to the digit of the balance") {
    CHECK(report::mass_text(812'400, 100) == "812.4 g");
    CHECK(report::mass_text(4'235'000, 1000) == "4.235 kg");
    CHECK(report::mass_text(45'600'000, 20'000) == "45.60 kg");
    CHECK(report::mass_text(5'000, 10) == "5.00 g");
    CHECK(report::exact_grams(20) == "0.02");
    CHECK(report::exact_kg(10'874'200) == "10.8742 kg");
    CHECK(report::signed_percent(-0.001) == "0.00 %");
  }

  TEST_CASE("text, JSON, CSV and HTML carry every plot and every batch") {
    const TrialPlan plan = two_treatments();
    const std::string text = to_text(plan);
    const std::string html = to_html(plan);
    const std::string csv = to_csv(plan, PlanList::plots);
    const auto json = nlohmann::json::parse(to_json(plan));
    CHECK(json["plots"].size() == 8);
    CHECK(count(csv, "\n") == 9);
    for (const auto& plot : plan.plots) {
      CHECK(text.find(plot.code) != std::string::npos);
      CHECK(csv.find(plot.code) != std::string::npos);
      CHECK(html.find(plot.code) != std::string::npos);
    }
    CHECK(count(html, "class=\"label\"") == 4);  // the control needs no container
    CHECK(count(html, "<section class=\"sheet batch\"") == 1);
    CHECK(text.find("ST-T2-B1") != std::string::npos);
  }

  TEST_CASE("a plot whose product could not be made never looks like a control") {
    ScenarioDraft impossible = starter();
    Limits little;
    little.max = 50;
    impossible.total_kg_per_ha = little;
    TreatmentDraft control;
    control.name = "control";
    const TrialPlan plan = plan_trial(
        Trial(small_trial({control, solved("good", starter()), solved("bad", impossible)})));
    REQUIRE(!plan.complete());
    // Four plots, the line of the table of treatments, and the heading that stands for the sheet.
    CHECK(count(to_text(plan), "NOT MADE") == 6);
    CHECK(count(to_html(plan), "NOT MADE") == 5);
    CHECK(count(to_html(plan), "<tr class=\"unmade\">") == 4);
    const std::string csv = to_csv(plan, PlanList::plots);
    CHECK(count(csv, ",NOT MADE,") == 4);
    CHECK(count(csv, ",nothing,") == 4);
    CHECK(count(csv, ",planned,") == 4);
    for (const auto& plot : nlohmann::json::parse(to_json(plan))["plots"]) {
      const std::string treatment = plot["treatment"];
      const std::string state = treatment == "control" ? "nothing"
                                : treatment == "good"  ? "planned"
                                                       : "not made";
      CHECK(plot["state"] == state);
      CHECK(plot["packs"].empty() == (treatment != "good"));
    }
  }

  TEST_CASE("each page of a batch sheet is headed by its batch, and signed with what it holds") {
    const std::string html = to_html(two_treatments());
    const auto sheet = html.find("<section class=\"sheet batch\"");
    const auto head = html.substr(sheet, html.find("</thead>", sheet) - sheet);
    CHECK(head.find("ST-T2-B1") != std::string::npos);
    const auto closing = html.find("<div class=\"closing\">", sheet);
    REQUIRE(closing != std::string::npos);
    CHECK(html.find("Packs from this load: ST-H-", closing) != std::string::npos);
    CHECK(html.find("Mixed by", closing) < html.find("</table>", html.find("Mixed by", closing)));
    CHECK(html.find(".whole,.closing{break-inside:avoid}") != std::string::npos);
  }

  TEST_CASE("a limit that may not be kept and a powder to look at are told apart") {
    const std::string html = to_html(two_treatments());
    CHECK(html.find("<li class=\"plain\"><b class=\"word\">SAME DAY</b>") != std::string::npos);
    CHECK(html.find("<li><b>CHECK</b>") != std::string::npos);
    const std::string text = to_text(two_treatments());
    CHECK(text.find("- SAME DAY: ") != std::string::npos);
    CHECK(text.find("- CHECK: 'boric-acid'") != std::string::npos);
  }

  TEST_CASE("no line of the text is wider than asked") {
    const std::string text = to_text(two_treatments());
    std::size_t start = 0;
    while (start < text.size()) {
      const std::size_t end = text.find('\n', start);
      CHECK(end - start <= 100);
      start = end + 1;
    }
  }

  TEST_CASE("a name cannot smuggle markup into a page") {
    const std::string html = to_html(two_treatments());
    CHECK(html.find("<none>") == std::string::npos);
    CHECK(html.find("control &lt;none&gt; &amp; &quot;nothing&quot;") != std::string::npos);
    CHECK(report::escaped("a'b\x01") == "a&#39;b ");
  }

  TEST_CASE("a page asks for nothing from elsewhere, and every tag is closed") {
    const std::string html = to_html(two_treatments());
    for (const auto* word : {"http", "<script", "url(", "@import", "<img", "<link"}) {
      CAPTURE(word);
      CHECK(html.find(word) == std::string::npos);
    }
    for (const std::string tag : {"section", "table", "tr", "td", "div", "p", "ul", "li", "span"}) {
      CAPTURE(tag);
      CHECK(count(html, "<" + tag + ">") + count(html, "<" + tag + " ") ==
            count(html, "</" + tag + ">"));
    }
  }

  TEST_CASE("the sheet size is A4 or letter") {
    const TrialPlan plan = two_treatments();
    CHECK(to_html(plan).find("@page{size:A4;") != std::string::npos);
    CHECK(to_html(plan, PlanPart::everything, Paper::letter).find("@page{size:letter;") !=
          std::string::npos);
  }

  TEST_CASE("the overview leaves the sheets and labels out") {
    const TrialPlan plan = two_treatments();
    CHECK(to_html(plan, PlanPart::overview).find("sheet batch") == std::string::npos);
    CHECK(to_text(plan, PlanPart::overview).find("Order of work") == std::string::npos);
    CHECK(to_text(plan).find("Order of work") != std::string::npos);
    const auto json = nlohmann::json::parse(to_json(plan, PlanPart::overview));
    CHECK(!json["treatments"][1].contains("weighings"));
  }

  TEST_CASE("masses in JSON add up") {
    const auto json = nlohmann::json::parse(to_json(two_treatments()));
    const auto& treatment = json["treatments"][1];
    double load = 0;
    for (const auto& weighing : treatment["weighings"]) load += weighing["weigh_g"].get<double>();
    CHECK(load == doctest::Approx(treatment["load_g"].get<double>()).epsilon(1e-12));
    CHECK(treatment["plots_g"].get<double>() + treatment["spare_g"].get<double>() ==
          doctest::Approx(treatment["total_g"].get<double>()).epsilon(1e-12));
  }

  TEST_CASE("the usual cautions stand in every report") {
    const TrialPlan plan = two_treatments();
    for (const auto& report : {to_text(plan), to_html(plan), to_json(plan)}) {
      for (const auto* word : {"respirator", "oxidizers", "Boron", "licensed", "food, feed"}) {
        CAPTURE(word);
        CHECK(report.find(word) != std::string::npos);
      }
    }
  }
}
