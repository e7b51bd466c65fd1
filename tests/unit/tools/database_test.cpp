// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "database.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <concepts>
#include <filesystem>

namespace stilling::command {
namespace {

// What is asked stands in the source: a text made at run time is none.
static_assert(!std::constructible_from<sql, std::string>);
static_assert(!std::constructible_from<sql, std::string_view>);

class database_file : public testing::Test {
 protected:
  database_file() { std::filesystem::remove(path); }
  ~database_file() override { std::filesystem::remove(path); }
  // Tests may run side by side.
  std::string path = testing::TempDir() + fmt::format("stilling_{}.db", ::getpid());
};

TEST_F(database_file, binds_and_returns_values_as_they_are) {
  database d{path, database::access::made_where_missing};
  d.run("CREATE TABLE t (a INTEGER, b REAL, c TEXT, d BLOB, e REAL) STRICT");
  const std::string text{"a'; DROP TABLE t; --\0\n", 22};
  const unsigned char bytes[]{0, 255};
  d.prepare("INSERT INTO t VALUES (?, ?, ?, ?, ?)")
      .bind(std::int64_t{-1} << 62, 0.1, text, std::span{bytes}, std::optional<double>{})
      .run();
  auto row = d.prepare("SELECT * FROM t");
  ASSERT_TRUE(row.next());
  EXPECT_EQ(row.whole(0), std::int64_t{-1} << 62);
  EXPECT_EQ(row.real(1), 0.1);
  EXPECT_EQ(row.text(2), text);
  EXPECT_EQ(row.text(3), std::string("\0\xFF", 2));
  EXPECT_FALSE(row.maybe_real(4));
  EXPECT_FALSE(row.next());
}

TEST_F(database_file, keeps_an_empty_text_from_being_unknown) {
  database d{path, database::access::made_where_missing};
  d.run("CREATE TABLE t (a TEXT NOT NULL)");
  d.prepare("INSERT INTO t VALUES (?)").bind(std::string_view{}).run();
  auto row = d.prepare("SELECT a FROM t");
  ASSERT_TRUE(row.next());
  EXPECT_EQ(row.text(0), "");
}

TEST_F(database_file, undoes_what_was_not_committed) {
  database d{path, database::access::made_where_missing};
  d.run("CREATE TABLE t (a)");
  {
    transaction t{d, transaction::kind::writing};
    d.run("INSERT INTO t VALUES (1)");
  }
  auto row = d.prepare("SELECT count(*) FROM t");
  ASSERT_TRUE(row.next());
  EXPECT_EQ(row.whole(0), 0);
}

TEST_F(database_file, takes_every_name_for_a_path) {
  const auto before = std::filesystem::current_path();
  const auto folder =
      std::filesystem::path{testing::TempDir()} / fmt::format("stilling_{}", ::getpid());
  std::filesystem::create_directories(folder);
  std::filesystem::current_path(folder);
  for (const auto* name : {":memory:", "file:x?mode=memory", "a b'c;.db"}) {
    std::filesystem::remove(name);
    database{name, database::access::made_where_missing}.run("CREATE TABLE t (a)");
    EXPECT_TRUE(std::filesystem::exists(name)) << name;
  }
  std::filesystem::current_path(before);
  std::filesystem::remove_all(folder);
}

TEST_F(database_file, says_what_is_wrong_with_the_path) {
  const auto open = [](const std::string& name) {
    try {
      const database d{name, database::access::made_where_missing};
    } catch (const database_fault& why) {
      return std::string{why.what()};
    }
    return std::string{"nothing"};
  };
  EXPECT_THAT(open(testing::TempDir()), testing::HasSubstr("a folder"));
  EXPECT_THAT(open(testing::TempDir() + "none/such.db"), testing::HasSubstr("No such file"));
}

}  // namespace
}  // namespace stilling::command
