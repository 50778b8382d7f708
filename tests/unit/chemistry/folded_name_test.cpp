#include "chemistry/hazard/folded_name.hpp"

#include <doctest/doctest.h>

using namespace leastwise;

TEST_SUITE("folded names") {
  TEST_CASE("case, accents and signs fall away, and words stay words") {
    const FoldedName name = folded_name("Nitrato_de-Amônio 34,5");
    CHECK(name.letters == "nitratodeamonio");
    CHECK(name.words == std::vector<std::string>{"nitrato", "de", "amonio"});
    CHECK(folded_name("Holzkohlenstück ß Œuvre Łódź").letters == "holzkohlenstuckssoeuvrelodz");
    CHECK(folded_name("an34").words == std::vector<std::string>{"an"});
    CHECK(folded_name("ＮＩＴＲＡＴ").letters == "nitrat");
    CHECK(folded_name("").words.empty());
  }

  TEST_CASE("marks that stand above a letter and characters nobody sees fall away") {
    CHECK(folded_name("sal\xC3\xA9tre").letters == "saletre");
    CHECK(folded_name("sale\xCC\x81tre").letters == "saletre");
    CHECK(folded_name("die\xE2\x80\x8Bsel").words == std::vector<std::string>{"diesel"});
  }

  TEST_CASE("Cyrillic loses its case, and its look-alikes inside a Latin word are Latin") {
    CHECK(folded_name("НИТРАТ").letters == folded_name("нитрат").letters);
    CHECK(folded_name("nitr\xD0\xB0te").letters == "nitrate");
    CHECK(folded_name("w\xD0\xB0x").letters == "wax");
  }

  TEST_CASE("two spellings of one name have one key, digits kept") {
    CHECK(folded_key("Map-Crystal") == folded_key("map crystal"));
    CHECK(folded_key("NPK 15") != folded_key("NPK 16"));
  }

  TEST_CASE("bytes that are no text do no harm") {
    CHECK(folded_name("a\xFF\xFE"
                      "b")
              .letters == "ab");
  }
}
