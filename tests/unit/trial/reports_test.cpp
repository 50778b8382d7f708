#include <leastwise/trial_report.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "report/kit/markup.hpp"
#include "report/trial/trial_field_words.hpp"
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
    CHECK(count(html, "<section class=\"sheet batch") == 1);
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
    CHECK(count(to_html(plan), "NOT MADE") == 10);  // in the key and on four stakes too
    CHECK(count(to_html(plan), "<tr class=\"unmade\">") == 4);
    const std::string csv = to_csv(plan, PlanList::plots);
    CHECK(count(csv, ",NOT MADE,") == 4);
    CHECK(count(csv, ",nothing,") == 4);
    CHECK(count(csv, ",planned,") == 4);
    const auto report = nlohmann::json::parse(to_json(plan));
    for (const auto& plot : report["plots"]) {
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
    const auto sheet = html.find("<section class=\"sheet batch");
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
    for (const auto* word :
         {"http:", "https:", " src=", "url(", "@import", "<img", "<link", "fetch("}) {
      CAPTURE(word);
      CHECK(html.find(word) == std::string::npos);
    }
    CHECK(html.find("content=\"default-src 'none';") != std::string::npos);
    for (const std::string tag : {"section", "table", "tr", "td", "div", "p", "ul", "li", "span"}) {
      CAPTURE(tag);
      CHECK(count(html, "<" + tag + ">") + count(html, "<" + tag + " ") ==
            count(html, "</" + tag + ">"));
    }
  }

  TEST_CASE("every plot has a stake and a place on the map, a control too, and twice blinded") {
    const TrialPlan plan = two_treatments();
    const std::string html = to_html(plan);
    CHECK(count(html, "class=\"stake\"") == 8);
    CHECK(count(html, "<svg class=\"field\"") == 2);
    CHECK(count(html, "<rect ") == 16);
    const auto start = html.find("<section class=\"sheet map blinded\"");
    REQUIRE(start != std::string::npos);
    const auto blinded = html.substr(start, html.find("</section>", start) - start);
    CHECK(blinded.find("T2") == std::string::npos);
    CHECK(blinded.find(">101<") != std::string::npos);
    const std::string stakes = to_csv(plan, PlanList::stakes);
    CHECK(count(stakes, "\n") == 9);
    CHECK(stakes.find("ST-H-101,H,Hill,1,101,1,1,") != std::string::npos);
  }

  TEST_CASE("blinded labels tell no treatment and no batch, but what endangers people") {
    TreatmentDraft control;
    control.name = "nothing at all";
    TrialDraft draft = small_trial({control, solved("secret mix", starter())});
    draft.labels.blinded = true;
    const std::string html = to_html(plan_trial(Trial(draft)));
    for (const std::string sheet : {"all-labels", "all-stakes"}) {
      const auto start = html.find("<section class=\"sheet " + sheet);
      REQUIRE(start != std::string::npos);
      const auto labels = html.substr(start, html.find("</section>", start) - start);
      CHECK(labels.find("secret mix") == std::string::npos);
      CHECK(labels.find("T2") == std::string::npos);
      CHECK(labels.find("nothing at all") == std::string::npos);
    }
    CHECK(html.find("TOXIC", html.find("<section class=\"sheet all-labels")) != std::string::npos);
  }

  TEST_CASE("codes are drawn where the trial asks for them and somebody makes them") {
    TrialDraft draft = small_trial({solved("starter", starter())});
    const ScanCodeMaker maker = [](std::string_view) {
      return ScanCode{{true, false}, {true, true}};
    };
    const auto drawn = [&] {
      return to_html(plan_trial(Trial(draft)), PlanPart::everything, Paper::a4, maker);
    };
    CHECK(count(drawn(), "class=\"scan\"") == 0);
    draft.labels.codes = true;
    const std::string html = drawn();
    CHECK(count(html, "class=\"scan\"") == 9);  // four packs, four stakes, one sheet
    CHECK(html.find("M4 4h1v1h-1zM4 5h2v1h-2z") != std::string::npos);
  }

  TEST_CASE("the day goes from the least micronutrients to the most, with cleaning between") {
    const TrialPlan plan =
        plan_trial(Trial(small_trial({solved("rich", starter()), recipe(200, 0)})));
    REQUIRE(plan.day_plan.size() == 3);
    CHECK(plan.day_plan[0].treatment == "T2");
    CHECK(plan.day_plan[1].batch.empty());
    CHECK(plan.day_plan[2].treatment == "T1");
    int sum = 0;
    for (const auto& task : plan.day_plan) CHECK(task.ends_after == (sum += task.minutes));
  }

  TEST_CASE("a spreader card gives the mass of 100 m") {
    TrialDraft draft = small_trial({recipe(200, 0)});
    draft.spreader = Spreader{3, 40};
    draft.sites[0].plot_area_m2.reset();
    draft.sites[0].plot_length_m = 10;
    draft.sites[0].plot_width_m = 4;
    const TrialPlan plan = plan_trial(Trial(draft));
    // 200 kg/ha on 3 m x 100 m, which is 0.03 ha.
    CHECK(report::kg_per_100_m(plan.treatments[0], *plan.spreader) == doctest::Approx(6));
    CHECK(to_html(plan).find("is 1.33 passes, no whole number") != std::string::npos);
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
