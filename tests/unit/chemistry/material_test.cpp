#include <doctest/doctest.h>
#include <leastwise/material.hpp>
#include <leastwise/nutrient.hpp>

using namespace leastwise;
using doctest::Approx;

TEST_SUITE("material") {
  TEST_CASE("forms are spelled as in scenario files") {
    CHECK(to_string(Form::granule) == "granule");
    CHECK(to_string(Form::powder) == "powder");
    CHECK(to_string(Form::crystal) == "crystal");
    CHECK(to_string(Form::fines) == "fines");
  }

  TEST_CASE("a stated content comes back as stated") {
    Material map;
    map.contains_percent = {{"N", 11}, {"N-ammonium", 11}, {"P2O5", 52}, {"Cd", 0.003}};
    CHECK(content_percent(map, "P2O5") == 52);
    CHECK(content_percent(map, "N-ammonium") == 11);
    CHECK(content_percent(map, "Cd") == 0.003);
  }

  TEST_CASE("oxide and element stand for each other") {
    Material stated;
    stated.contains_percent = {{"P2O5", 52}, {"S", 10}};
    CHECK(content_percent(stated, "P") == Approx(52 * *conversion_factor("P2O5", "P")));
    CHECK(content_percent(stated, "SO3") == Approx(10 * *conversion_factor("S", "SO3")));
  }

  TEST_CASE("a material that states both oxide and element gives each as stated") {
    Material stated;
    stated.contains_percent = {{"P2O5", 52}, {"P", 22.7}};
    CHECK(content_percent(stated, "P") == 22.7);
    CHECK(content_percent(stated, "P2O5") == 52);
  }

  TEST_CASE("what is not stated is not there") {
    Material urea;
    urea.contains_percent = {{"N", 46}, {"N-urea", 46}, {"P2O5-water", 1}};
    CHECK(content_percent(urea, "K") == 0);
    CHECK(content_percent(urea, "N-nitrate") == 0);
    CHECK(content_percent(urea, "P2O5") == 0);
    CHECK(content_percent(urea, "P") == 0);
    CHECK(content_percent(urea, "biuret") == 0);
    CHECK(content_percent(Material{}, "N") == 0);
  }

  TEST_CASE("only crystal and fines that are ground become a powder") {
    Material material;
    for (const bool ground : {false, true}) {
      material.ground = ground;
      material.form = Form::granule;
      CHECK(material.form_used() == Form::granule);
      CHECK(material.can_enter());
      for (const Form form : {Form::crystal, Form::fines}) {
        material.form = form;
        CHECK(material.form_used() == (ground ? Form::powder : form));
        CHECK(material.can_enter() == ground);
      }
    }
  }
}
