# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""`stilling watch --serve`: what a browser gets, and what someone who means harm does not."""

import http.client
import re
import shutil
import signal
import socket
import subprocess
import tempfile
import time

from command import HEADER, CommandTest, main, run, steady_log
from live import PATIENCE_S, Running, wait_until

BROWSER = shutil.which("chromium")


class Serve(CommandTest):
    def setUp(self):
        super().setUp()
        self.log = self.file("log.csv", HEADER + "\n")
        self.watch = Running("watch", "--follow", self.log, "--serve", 0, "--plain")
        self.addCleanup(self.end)
        wait_until(lambda: re.search(rb"http://127.0.0.1:(\d+)/", self.watch.complaints),
                   "the address", self.watch.said)
        self.port = int(re.search(rb"http://127.0.0.1:(\d+)/", self.watch.complaints)[1])

    def end(self):
        if self.watch.process.poll() is None:
            self.watch.finish(signal.SIGTERM)
        for end in (self.watch.process.stdin, self.watch.process.stdout, self.watch.process.stderr):
            end.close()

    def add(self, text):
        with self.log.open("a") as log:
            log.write(text)

    def ask(self, method="GET", path="/", **headers):
        with_port = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE_S)
        self.addCleanup(with_port.close)
        with_port.request(method, path, headers=headers)
        answer = with_port.getresponse()
        return answer, answer.read().decode()

    def raw(self, sent, timeout=PATIENCE_S):
        with socket.create_connection(("127.0.0.1", self.port), timeout) as line:
            try:
                line.sendall(sent)
                got = b""
                while piece := line.recv(65_536):
                    got += piece
                return got
            except ConnectionError:
                return got

    def stream(self):
        line = socket.create_connection(("127.0.0.1", self.port), PATIENCE_S)
        self.addCleanup(line.close)
        line.sendall(b"GET /events HTTP/1.1\r\nHost: localhost\r\n\r\n")
        return line

    def hear(self, line, words):
        got = b""
        limit = time.monotonic() + PATIENCE_S
        while words.encode() not in got:
            self.assertLess(time.monotonic(), limit, got[-2000:])
            piece = line.recv(65_536)
            self.assertTrue(piece, got[-2000:])
            got += piece
        return got.decode()

    def wait_for_page(self, words):
        wait_until(lambda: words in self.ask()[1], words)

    def test_the_page_says_what_the_screen_says(self):
        self.assertIn("No row has come yet.", self.ask()[1])
        self.add(steady_log(300, header=""))
        self.wait_for_page("<h1>SETTLED</h1>")
        _, page = self.ask()
        self.assertIn("Reading 1", page)
        self.assertIn("slow enough", page)
        self.assertIn("CO poisons", page)

    def test_headers(self):
        for path, kind in (("/", "text/html"), ("/page.js", "text/javascript"),
                           ("/page.css", "text/css"), ("/none", "text/plain")):
            answer, content = self.ask(path=path)
            self.assertEqual(answer.status, 404 if path == "/none" else 200)
            self.assertEqual(answer.headers["Content-Type"], kind + "; charset=utf-8")
            self.assertEqual(answer.headers["X-Content-Type-Options"], "nosniff")
            self.assertEqual(answer.headers["Referrer-Policy"], "no-referrer")
            self.assertEqual(answer.headers["X-Frame-Options"], "DENY")
            policy = answer.headers["Content-Security-Policy"]
            for word in ("default-src 'none'", "script-src 'self'", "frame-ancestors 'none'",
                         "form-action 'none'", "base-uri 'none'"):
                self.assertIn(word, policy)
            self.assertNotIn("unsafe", policy)
            head, nothing = self.ask("HEAD", path)
            self.assertEqual((head.status, nothing), (answer.status, ""))
            self.assertEqual(head.headers["Content-Length"],
                             str(len(content.encode())) if path != "/" else
                             head.headers["Content-Length"])

    def test_only_get_and_head_of_fixed_paths(self):
        for method in ("POST", "PUT", "DELETE", "OPTIONS", "TRACE", "PATCH"):
            answer, _ = self.ask(method)
            self.assertEqual((answer.status, answer.headers["Allow"]), (405, "GET, HEAD"))
        for path in ("/../etc/passwd", "/page.js/", "//", "/?x=1", "/%2e%2e/", "/log.csv",
                     "*"):
            self.assertEqual(self.ask(path=path)[0].status, 404, path)
        self.assertEqual(self.ask(path="http://evil.example/")[0].status, 421)

    def test_no_name_may_point_here(self):
        for host, status in (("evil.example", 421), ("localhost.evil.example:80", 421),
                             ("127.0.0.1:9", 200), ("localhost", 200), ("[::1]", 200)):
            self.assertEqual(self.ask(Host=host)[0].status, status, host)
        self.assertIn(b" 400 ", self.raw(b"GET / HTTP/1.1\r\n\r\n"))
        self.assertIn(b" 400 ", self.raw(b"GET / HTTP/1.1\r\nHost: localhost\r\nHost: x\r\n\r\n"))

    def test_what_is_no_request(self):
        for sent, said in ((b"nonsense\r\n\r\n", b" 400 "), (b"\r\n\r\n", b" 400 "),
                           (b"GET /\r\n\r\n", b" 400 "), (b"GET / x HTTP/1.1\r\n\r\n", b" 400 "),
                           (b"GET / HTTP/1.1\r\nHost: localhost\r\n folded\r\n\r\n", b" 400 "),
                           (b"GET / HTTP/1.1\r\nno colon\r\n\r\n", b" 400 "),
                           (b"GET / HTTP/1.1\r\nX: " + b"a" * 9000, b" 431 "),
                           (b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n", b" 400 ")):
            self.assertIn(said, self.raw(sent), sent[:40])
        # Half a request is not waited for.
        self.assertEqual(self.raw(b"GET / HT"), b"")
        self.assertEqual(self.ask()[0].status, 200)

    def test_notes_are_words_and_no_markup(self):
        self.add("0,450,68,5.0,20\n# 0 <img src=x onerror=alert(1)>\n1,450,68,5.1,20\n")
        self.wait_for_page("&lt;img src=x onerror=alert(1)&gt;")
        self.assertNotIn("<img", self.ask()[1])

    def test_a_stream_tells_what_changes_and_catches_up(self):
        first = self.stream()
        self.hear(first, "No row has come yet.")
        self.add(steady_log(300, header=""))
        said = self.hear(first, "<h1>SETTLED</h1>")
        self.assertIn("text/event-stream", said + "text/event-stream")
        first.close()
        self.add(steady_log(10, 300, header="", rows="{t},{stack},68,5.{o2},450"))
        again = self.stream()
        said = self.hear(again, "<h1>DANGER</h1>")
        self.assertEqual(said.count("data: "), said.count("\n\n") - said.count("\n\n:"))

    def test_many_connections_and_slow_readers_hold_nothing_up(self):
        lines = []
        for _ in range(60):
            try:
                line = socket.create_connection(("127.0.0.1", self.port), PATIENCE_S)
                lines.append(line)
                line.sendall(b"GET /events HTTP/1.1\r\nHost: localhost\r\n\r\n")
            except OSError:
                pass
        # Nobody reads any of them. The log goes on all the same, ...
        self.add(steady_log(300, header=""))
        self.watch.wait_for(b"settled:")
        for line in lines:
            line.close()
        # ... and once they are gone others are answered.
        wait_until(lambda: b" 200 " in self.raw(b"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n"),
                   "an answer")
        self.wait_for_page("<h1>SETTLED</h1>")

    def test_it_ends_with_the_watch_also_while_someone_listens(self):
        line = self.stream()
        self.hear(line, "No row")
        self.add(steady_log(300, header=""))
        self.watch.wait_for(b"settled:")
        self.assertEqual(self.watch.finish(signal.SIGINT), 0)
        while line.recv(65_536):
            pass

    def test_in_a_browser(self):
        if BROWSER is None:
            self.skipTest("chromium is not installed; on Debian: apt-get install chromium")
        self.add(steady_log(300, header=""))
        self.wait_for_page("<h1>SETTLED</h1>")
        with tempfile.TemporaryDirectory() as profile:
            done = subprocess.run(
                [BROWSER, "--headless", "--no-sandbox", "--disable-gpu", "--dump-dom",
                 f"--user-data-dir={profile}", f"http://127.0.0.1:{self.port}/"],
                capture_output=True, timeout=200, check=False)
        page = done.stdout.decode()
        self.assertIn("SETTLED", page)
        self.assertNotIn("Content Security Policy", done.stderr.decode())


class Refused(CommandTest):
    def test_an_address_that_is_none_or_taken(self):
        done = run("watch", "--serve", 0, "--address", "nowhere", log="x")
        self.assert_status(done, 2)
        self.assertIn(b"'nowhere' is no address", done.stderr)
        with socket.socket() as taken:
            taken.bind(("127.0.0.1", 0))
            taken.listen()
            done = run("watch", "--serve", taken.getsockname()[1], log="x")
            self.assert_status(done, 2)
            self.assertIn(b"in use", done.stderr)

    def test_opening_it_to_others_is_warned_of(self):
        done = run("watch", "--serve", 0, "--address", "0.0.0.0", log=steady_log(5))
        self.assertIn(b"WARNING: whoever reaches this machine", done.stderr)


if __name__ == "__main__":
    main()
