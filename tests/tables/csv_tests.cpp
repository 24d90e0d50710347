#include "tables/csv.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;

// RFC 4180, section 2: rules 1 (rows end with CRLF), 4 (commas between fields, none at the end), 5
// to 7 (quotes around fields with breaks, quotes and commas; a quote inside is doubled).
TEST_CASE("tables are comma-separated values as in RFC 4180", "[tables][csv]") {
  CHECK(csv_text({}) == "");
  CHECK(csv_text({{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}) ==
        "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n");
  CHECK(csv_text({{"aaa", "b\r\nbb", "ccc"}}) == "aaa,\"b\r\nbb\",ccc\r\n");
  CHECK(csv_text({{"aaa", "b\"bb", "ccc"}}) == "aaa,\"b\"\"bb\",ccc\r\n");
  CHECK(csv_text({{"a,b", "", "c"}}) == "\"a,b\",,c\r\n");
  CHECK(csv_text({{" a", "b ", "c d"}}) == "\" a\",\"b \",c d\r\n");
}
