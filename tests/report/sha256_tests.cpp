#include "report/sha256.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;

// Digests of the worked examples that NIST publishes with FIPS 180-4 ("Examples with Intermediate
// Values", SHA-256: "abc" and the two-block message) and of its long-message test, a million times
// "a" (FIPS 180-2, B.3). The empty message is the first vector of NIST's SHA256ShortMsg.rsp.
TEST_CASE("SHA-256 gives the digests that NIST publishes", "[report][sha256]") {
  CHECK(sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  CHECK(sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  CHECK(sha256(std::string(1'000'000, 'a')) ==
        "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

// Lengths around the edge where the padding needs a second block (55, 56) and around a whole block
// (63, 64). Computed with sha256sum of GNU coreutils 9.1: head -c N /dev/zero | tr '\0' x |
// sha256sum
TEST_CASE("SHA-256 pads messages of every length near a block's edge", "[report][sha256]") {
  struct Row {
    std::size_t length;
    const char* digest;
  };
  const auto row = GENERATE(values<Row>({
      {55, "d5e285683cd4efc02d021a5c62014694958901005d6f71e89e0989fac77e4072"},
      {56, "04c26261370ee7541549d16dee320c723e3fd14671e66a099afe0a377c16888e"},
      {63, "75220b47218278e656f2013bb8f0c455a25eaf01e86c64924e9d48d89776d6f2"},
      {64, "7ce100971f64e7001e8fe5a51973ecdfe1ced42befe7ee8d5fd6219506b5393c"},
      {65, "9537c5fdf120482f7d58d25e9ed583f52c02b4e304ea814db1633ad565aed7e9"},
      {119, "000b48d4edf0fa7bee3c6236ecd2785baa5db4eeb8bb54341b029e0d9fa5fb0c"},
      {120, "13f05a0b594787f5ecd315edc96141bd3243203d1b7d4f0836f37308b276ba98"},
  }));
  CAPTURE(row.length);
  CHECK(sha256(std::string(row.length, 'x')) == row.digest);
}
