// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "archive.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/uuid/name_generator_sha1.hpp>
#include <boost/uuid/uuid_io.hpp>
#include <utility>

#include "archive_schema.hpp"

namespace stilling::command {
namespace {

std::int64_t nanoseconds_of(instant t) noexcept { return t.time_since_epoch().count(); }
std::optional<std::int64_t> nanoseconds_of(const std::optional<instant>& t) noexcept {
  if (!t) return std::nullopt;
  return nanoseconds_of(*t);
}
instant instant_at(std::int64_t ns) noexcept { return instant{duration{ns}}; }
std::optional<instant> instant_at(const std::optional<std::int64_t>& ns) noexcept {
  if (!ns) return std::nullopt;
  return instant_at(*ns);
}

std::optional<channel> channel_of(std::string_view name) noexcept {
  for (const auto c : all_channels)
    if (traits_of(c).name == name) return c;
  return std::nullopt;
}

cause cause_of(std::string_view name) noexcept {
  constexpr auto last = static_cast<int>(cause::drift_in_step);
  for (int i = 0; i <= last; ++i)
    if (name_of(static_cast<cause>(i)) == name) return static_cast<cause>(i);
  return cause::none;
}

std::int64_t one_number(statement asked) {
  return asked.next() ? asked.whole(0) : 0;
}

class writer {
 public:
  writer(database& to, std::int64_t test) : to_{to}, test_{test} {}

  void write(const kept_test& t) {
    auto columns = to_.prepare("INSERT INTO logged_column VALUES (?, ?, ?, ?)");
    for (const auto c : all_channels)
      columns
          .bind(test_, traits_of(c).name, traits_of(t.units[index_of(c)]).name,
                t.columns.contains(c))
          .run();
    auto words = to_.prepare("INSERT INTO particular VALUES (?, ?, ?)");
    for (const auto& p : all_particulars())
      if (const auto& said = t.about.*p.words; !said.empty()) words.bind(test_, p.name, said).run();
    for (std::size_t i = 0; i < t.readings.size(); ++i)
      write(static_cast<std::int64_t>(i), t.readings[i]);
    auto findings =
        to_.prepare("INSERT INTO finding VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
    std::int64_t place = 0;
    for (const auto& f : t.found)
      findings
          .bind(test_, place++, nanoseconds_of(f.at), f.kind, f.severity, f.quantity, f.value,
                f.standard_uncertainty, f.limit, f.basis, f.brief, f.text)
          .run();
    auto notes = to_.prepare("INSERT INTO note VALUES (?, ?, ?, ?)");
    place = 0;
    for (const auto& n : t.notes)
      notes.bind(test_, place++, nanoseconds_of(n.at), n.text).run();
    auto assumptions = to_.prepare("INSERT INTO assumption VALUES (?, ?, ?)");
    place = 0;
    for (const auto& a : t.assumptions) assumptions.bind(test_, place++, a).run();
  }

 private:
  void write(std::int64_t at, const kept_reading& k) {
    const auto& r = k.read;
    std::optional<double> period;
    if (r.hunting) period = r.hunting->period;
    to_.prepare("INSERT INTO reading VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
        .bind(test_, at, nanoseconds_of(r.declared), nanoseconds_of(r.from), nanoseconds_of(r.to),
              nanoseconds_of(r.released), nanoseconds_of(r.last_seen), name_of(r.ended),
              r.creeping, period, r.drift_corrected, k.smoke)
        .run();
    auto measured = to_.prepare(
        "INSERT INTO measured VALUES"
        " (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
    auto used = to_.prepare("INSERT INTO used VALUES (?, ?, ?, ?, ?)");
    for (const auto c : all_channels) {
      const auto name = traits_of(c).name;
      if (r.channels.has(c)) {
        const auto& x = r.channels[c];
        std::optional<double> amplitude;
        if (r.hunting && r.hunting->amplitude.has(c)) amplitude = r.hunting->amplitude[c];
        measured
            .bind(test_, at, name, x.mean, x.standard_uncertainty, x.degrees_of_freedom, x.rate,
                  x.rate_bound, x.remaining, x.peak, x.lag, x.step, x.coverage, x.longest_gap,
                  std::int64_t{x.count}, x.effective_count, std::int64_t{x.set_aside}, amplitude,
                  x.correction)
            .run();
      }
      if (k.used.has(c))
        used.bind(test_, at, name, k.used[c].value, k.used[c].standard_uncertainty).run();
    }
    auto derived = to_.prepare("INSERT INTO derived VALUES (?, ?, ?, ?, ?, ?)");
    for (const auto& f : figure_table) {
      const auto& y = k.figures[index_of(f.is)];
      derived.bind(test_, at, f.stem, y.value, y.standard_uncertainty, y.by).run();
    }
    auto moves = to_.prepare("INSERT INTO move VALUES (?, ?, ?, ?)");
    std::int64_t place = 0;
    for (const auto& m : k.moves) moves.bind(test_, at, place++, m).run();
  }

  database& to_;
  std::int64_t test_;
};

/// Puts rows back where they came from. What a later stilling of the same schema may name and this
/// one does not know is passed over.
class reader {
 public:
  explicit reader(database& from) : from_{from} {}

  kept_test read(std::int64_t number) {
    kept_test t;
    auto test = from_.prepare(
        "SELECT number, identity, day, file, version, settings, fuel, method, outcome, rows,"
        " frames, rejected FROM test WHERE number = ?");
    if (!test.bind(number).next()) return t;
    t.number = test.whole(0);
    t.identity = test.text(1);
    t.day = test.whole(2);
    t.file = test.text(3);
    t.version = test.text(4);
    t.settings = test.text(5);
    t.fuel = test.text(6);
    t.method = test.text(7);
    t.outcome = test.text(8);
    t.rows = static_cast<std::uint64_t>(test.whole(9));
    t.frames = static_cast<std::uint64_t>(test.whole(10));
    t.rejected = static_cast<std::uint64_t>(test.whole(11));
    read_words(t);
    read_columns(t);
    read_readings(t);
    read_found(t);
    return t;
  }

 private:
  void read_words(kept_test& t) {
    auto rows = from_.prepare("SELECT name, words FROM particular WHERE test = ?");
    rows.bind(t.number);
    while (rows.next()) {
      const auto name = rows.text(0);
      for (const auto& p : all_particulars())
        if (p.name == name) t.about.*p.words = rows.text(1);
    }
    auto said = from_.prepare("SELECT words FROM assumption WHERE test = ? ORDER BY place");
    said.bind(t.number);
    while (said.next()) t.assumptions.push_back(said.text(0));
    auto notes = from_.prepare("SELECT at, words FROM note WHERE test = ? ORDER BY place");
    notes.bind(t.number);
    while (notes.next()) t.notes.push_back({instant_at(notes.whole(0)), notes.text(1)});
  }

  void read_columns(kept_test& t) {
    for (const auto c : all_channels) t.units[index_of(c)] = canonical_unit(traits_of(c).kind);
    auto rows = from_.prepare("SELECT channel, unit, present FROM logged_column WHERE test = ?");
    rows.bind(t.number);
    while (rows.next()) {
      const auto c = channel_of(rows.text(0));
      if (!c) continue;
      const auto name = rows.text(1);
      if (const auto u = find_unit(name, traits_of(*c).kind)) t.units[index_of(*c)] = *u;
      if (rows.whole(2) != 0) t.columns.insert(*c);
    }
  }

  void read_readings(kept_test& t) {
    auto rows = from_.prepare(
        "SELECT declared, began, ended, released, last_seen, end_reason, creeping, hunting_period,"
        " drift_corrected, smoke FROM reading WHERE test = ? ORDER BY place");
    rows.bind(t.number);
    while (rows.next()) {
      kept_reading k;
      auto& r = k.read;
      r.declared = instant_at(rows.whole(0));
      r.from = instant_at(rows.whole(1));
      r.to = instant_at(rows.maybe_whole(2));
      r.released = instant_at(rows.maybe_whole(3));
      r.last_seen = instant_at(rows.whole(4));
      r.ended = cause_of(rows.text(5));
      r.creeping = rows.whole(6) != 0;
      if (const auto period = rows.maybe_real(7)) r.hunting = oscillation{*period, {}};
      r.drift_corrected = rows.whole(8) != 0;
      k.smoke = rows.maybe_real(9);
      for (auto& f : k.figures) f.by = name_of(undefined::not_derived);
      t.readings.push_back(std::move(k));
    }
    // A place that no reading has is of a damaged file, and passed over.
    const auto at = [&](std::int64_t place) -> kept_reading* {
      const auto i = static_cast<std::size_t>(place);
      return place >= 0 && i < t.readings.size() ? &t.readings[i] : nullptr;
    };
    read_measured(t.number, at);
    read_derived(t.number, at);
  }

  template <class At> void read_measured(std::int64_t number, At at) {
    auto rows = from_.prepare(
        "SELECT reading, channel, mean, u, degrees_of_freedom, rate, rate_bound, remaining, peak,"
        " lag, step, coverage, longest_gap, count, effective_count, set_aside, amplitude,"
        " correction"
        " FROM measured WHERE test = ?");
    rows.bind(number);
    while (rows.next()) {
      auto* k = at(rows.whole(0));
      const auto c = channel_of(rows.text(1));
      if (k == nullptr || !c) continue;
      channel_reading x;
      x.mean = rows.real(2);
      x.standard_uncertainty = rows.real(3);
      x.degrees_of_freedom = rows.real(4);
      x.rate = rows.real(5);
      x.rate_bound = rows.maybe_real(6);
      x.remaining = rows.maybe_real(7);
      x.peak = rows.maybe_real(8);
      x.lag = rows.maybe_real(9);
      x.step = rows.real(10);
      x.coverage = rows.real(11);
      x.longest_gap = rows.real(12);
      x.count = static_cast<std::uint32_t>(rows.whole(13));
      x.effective_count = rows.real(14);
      x.set_aside = static_cast<std::uint32_t>(rows.whole(15));
      x.correction = rows.maybe_real(17);
      k->read.channels.set(*c, x);
      if (const auto swing = rows.maybe_real(16); swing && k->read.hunting)
        k->read.hunting->amplitude.set(*c, *swing);
    }
    auto used = from_.prepare("SELECT reading, channel, value, u FROM used WHERE test = ?");
    used.bind(number);
    while (used.next()) {
      auto* k = at(used.whole(0));
      const auto c = channel_of(used.text(1));
      if (k != nullptr && c) k->used.set(*c, {used.real(2), used.real(3)});
    }
  }

  template <class At> void read_derived(std::int64_t number, At at) {
    auto rows =
        from_.prepare("SELECT reading, figure, value, u, by FROM derived WHERE test = ?");
    rows.bind(number);
    while (rows.next()) {
      auto* k = at(rows.whole(0));
      const auto stem = rows.text(1);
      const auto f = std::ranges::find(figure_table, stem, &figure_traits::stem);
      if (k == nullptr || f == figure_table.end()) continue;
      k->figures[index_of(f->is)] = {rows.maybe_real(2), rows.real(3), rows.text(4)};
    }
    auto moves =
        from_.prepare("SELECT reading, words FROM move WHERE test = ? ORDER BY reading, place");
    moves.bind(number);
    while (moves.next())
      if (auto* k = at(moves.whole(0))) k->moves.push_back(moves.text(1));
  }

  void read_found(kept_test& t) {
    auto rows = from_.prepare(
        "SELECT at, finding, severity, quantity, value, u, threshold, basis, brief, words"
        " FROM finding WHERE test = ? ORDER BY place");
    rows.bind(t.number);
    while (rows.next())
      t.found.push_back({instant_at(rows.whole(0)), rows.text(1), rows.text(2), rows.text(3),
                         rows.maybe_real(4), rows.maybe_real(5), rows.maybe_real(6), rows.text(7),
                         rows.text(8), rows.text(9)});
  }

  database& from_;
};

}  // namespace

log_identity identity_of(std::string_view log, std::string_view settings) {
  // A random one, our own: the same bytes hashed elsewhere for another purpose differ.
  constexpr boost::uuids::uuid ours{{0x6b, 0x1f, 0x0c, 0x52, 0x9d, 0x3e, 0x4a, 0x77, 0xa8, 0x04,
                                     0xe1, 0x5c, 0x2b, 0x90, 0x66, 0xd3}};
  const boost::uuids::name_generator_sha1 named{ours};
  const auto of_log = named(log.data(), log.size());
  const auto text = to_string(of_log);
  return {to_string(named(text + '\n' + std::string{settings})), text};
}

archive::archive(const std::string& path, access how)
    : file_{path, how == access::existing ? database::access::existing
                                          : database::access::made_where_missing} {
  look_at_header(how);
}

void archive::look_at_header(access how) {
  const auto check = [&] {
    const auto application = one_number(file_.prepare("PRAGMA application_id"));
    const auto schema = one_number(file_.prepare("PRAGMA user_version"));
    const auto tables = one_number(file_.prepare("SELECT count(*) FROM sqlite_schema"));
    if (application == 0 && schema == 0 && tables == 0) return false;
    if (application != application_id)
      throw database_fault{
          fmt::format("{}: this is a database of something else (application_id {:#010x}); it was "
                      "left as it is",
                      file_.path(), static_cast<std::uint32_t>(application))};
    if (schema > newest_schema)
      throw database_fault{fmt::format(
          "{}: written by a newer stilling (schema {}, this one knows {}); use that one",
          file_.path(), schema, newest_schema)};
    if (schema < 1)
      throw database_fault{fmt::format("{}: its schema {} is none of stilling's", file_.path(),
                                       schema)};
    return true;
  };
  if (check() || how == access::existing) return;
  transaction t{file_, transaction::kind::writing};
  if (check()) return;  // another was quicker
  for (const auto& words : schema_1) file_.run(words);
  file_.run(mark_application);
  file_.run(mark_schema);
  t.commit();
}

archive::answer archive::keep(const kept_test& test, std::string_view log, bool replaced) {
  transaction t{file_, transaction::kind::writing};
  answer out;
  const auto identity = identity_of(log, test.settings);
  auto same = file_.prepare("SELECT number FROM test WHERE identity = ?");
  out.was_there = same.bind(identity.of_test).next();
  if (out.was_there) out.number = same.whole(0);
  if (out.was_there && !replaced) return out;
  if (out.was_there) {
    file_.prepare("DELETE FROM test WHERE number = ?").bind(out.number).run();
    write(test, log, out.number);
  } else {
    auto other = file_.prepare("SELECT min(number) FROM test WHERE log_identity = ?");
    if (other.bind(identity.of_log).next()) out.same_log = other.maybe_whole(0);
    write(test, log, std::nullopt);
    out.number = file_.newest_row();
  }
  t.commit();
  return out;
}

void archive::write(const kept_test& test, std::string_view log,
                    std::optional<std::int64_t> number) {
  const auto identity = identity_of(log, test.settings);
  file_
      .prepare("INSERT INTO test VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
      .bind(number, identity.of_test, identity.of_log, test.day, test.file, test.version,
            test.settings, test.fuel, test.method, test.outcome,
            static_cast<std::int64_t>(test.rows), static_cast<std::int64_t>(test.frames),
            static_cast<std::int64_t>(test.rejected),
            std::span{reinterpret_cast<const unsigned char*>(log.data()), log.size()})
      .run();
  writer{file_, number.value_or(file_.newest_row())}.write(test);
}

std::vector<kept_test> archive::tests(const chosen_tests& which) {
  transaction t{file_, transaction::kind::reading};
  std::vector<kept_test> all;
  if (one_number(file_.prepare("SELECT count(*) FROM sqlite_schema")) == 0) return all;
  auto numbers = file_.prepare(
      "SELECT number FROM test WHERE (?1 IS NULL OR number = ?1)"
      " AND (?2 IS NULL OR ?2 IN (SELECT words FROM particular"
      "   WHERE test = number AND name = 'customer'))"
      " AND (?3 IS NULL OR ?3 IN (SELECT words FROM particular"
      "   WHERE test = number AND name = 'site'))"
      " AND (?4 IS NULL OR ?4 IN (SELECT words FROM particular"
      "   WHERE test = number AND name = 'appliance'))"
      " ORDER BY day, number");
  numbers.bind(which.number, which.customer, which.site, which.appliance);
  reader from{file_};
  while (numbers.next()) all.push_back(from.read(numbers.whole(0)));
  t.commit();
  return all;
}

std::string archive::log_of(std::int64_t number) {
  auto log = file_.prepare("SELECT log FROM test WHERE number = ?");
  return log.bind(number).next() ? log.text(0) : std::string{};
}

void archive::forget(const std::vector<kept_test>& those) {
  {
    transaction t{file_, transaction::kind::writing};
    auto one = file_.prepare("DELETE FROM test WHERE number = ?");
    for (const auto& test : those) one.bind(test.number).run();
    t.commit();
  }
  // What was deleted is overwritten already; pages that were split or joined before may hold
  // older copies. Written anew, the file holds what is there and nothing else.
  file_.run("VACUUM");
}

}  // namespace stilling::command
