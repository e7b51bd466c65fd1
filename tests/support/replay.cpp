// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What a fuzzer starts from and whatever it ever found, run again by any compiler: linked with one
// of tests/fuzz/*.cpp, it takes every file of the folders of that name and of kept/ beside it.

#include <gtest/gtest.h>

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size);

namespace {

TEST(replay, of_all_that_is_kept) {
  const std::filesystem::path fuzz = std::string{STILLING_TEST_FOLDER} + "/fuzz";
  std::size_t files = 0;
  for (const auto& folder : {fuzz / STILLING_FUZZER, fuzz / "kept" / STILLING_FUZZER}) {
    if (!std::filesystem::exists(folder)) continue;
    for (const auto& file : std::filesystem::directory_iterator{folder}) {
      std::ifstream in{file.path(), std::ios::binary};
      const std::string bytes{std::istreambuf_iterator<char>{in}, {}};
      SCOPED_TRACE(file.path().filename().string());
      LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
      ++files;
    }
  }
  EXPECT_GT(files, 0U) << "nothing to start from";
}

}  // namespace
