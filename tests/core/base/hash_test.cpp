#include "core/base/hash.h"

#include <gtest/gtest.h>

#include <string>

namespace yw::base {
namespace {

// NIST CSRC example values for FIPS 180-4.
TEST(Sha256, GivesThePublishedDigests) {
  EXPECT_EQ(sha256(""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  EXPECT_EQ(sha256("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(sha256(std::string(1'000'000, 'a')),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

// Lengths at which the padding changes from one block to two, checked with sha256sum of GNU coreutils 9.1.
TEST(Sha256, PadsAtTheEdgesOfABlock) {
  EXPECT_EQ(sha256(std::string(55, 'x')), "d5e285683cd4efc02d021a5c62014694958901005d6f71e89e0989fac77e4072");
  EXPECT_EQ(sha256(std::string(56, 'x')), "04c26261370ee7541549d16dee320c723e3fd14671e66a099afe0a377c16888e");
  EXPECT_EQ(sha256(std::string(63, 'x')), "75220b47218278e656f2013bb8f0c455a25eaf01e86c64924e9d48d89776d6f2");
  EXPECT_EQ(sha256(std::string(64, 'x')), "7ce100971f64e7001e8fe5a51973ecdfe1ced42befe7ee8d5fd6219506b5393c");
  EXPECT_EQ(sha256(std::string(65, 'x')), "9537c5fdf120482f7d58d25e9ed583f52c02b4e304ea814db1633ad565aed7e9");
}

std::string decoded(std::string_view text) {
  bool ok = false;
  const std::string bytes = fromBase64(text, ok);
  return ok ? bytes : "refused";
}

// RFC 4648 section 10.
TEST(Base64, GivesThePublishedTexts) {
  const std::pair<const char*, const char*> vectors[] = {{"", ""},
                                                         {"f", "Zg=="},
                                                         {"fo", "Zm8="},
                                                         {"foo", "Zm9v"},
                                                         {"foob", "Zm9vYg=="},
                                                         {"fooba", "Zm9vYmE="},
                                                         {"foobar", "Zm9vYmFy"}};
  for (const auto& [bytes, text] : vectors) {
    EXPECT_EQ(toBase64(bytes), text);
    EXPECT_EQ(decoded(text), bytes);
  }
}

TEST(Base64, EveryByteComesBack) {
  std::string bytes;
  for (int i = 0; i < 256; ++i) bytes += static_cast<char>(i);
  for (std::size_t from = 0; from < 3; ++from)
    EXPECT_EQ(decoded(toBase64(bytes.substr(from))), bytes.substr(from));
}

TEST(Base64, RefusesWhatIsNotBase64) {
  for (const char* text :
       {"Zg", "Zg=", "Z===", "====", "Zg==Zg==", "Zm 8", "Zm9v\n", "Zm9-", "Zh==", "Zm9=", "="})
    EXPECT_EQ(decoded(text), "refused") << text;
}

}  // namespace
}  // namespace yw::base
