#pragma once

#include <sys/types.h>

#include <string>
#include <vector>

namespace swardwalk::server {

/// What a program that ran to its end left.
struct Ended {
  int status = -1;  ///< exit status; 128 and the signal where one ended it
  std::string out;
  std::string err;
};

/// Runs swardwalk-server with these arguments to its end.
Ended runServer(const std::vector<std::string>& arguments);

/// swardwalk-server while it runs; killed and waited for when this is gone.
class Child {
 public:
  explicit Child(const std::vector<std::string>& arguments);
  ~Child();
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;

  /// The next line of standard output, without its line feed; empty at its end.
  std::string readLine();
  void send(int signal);
  pid_t id() const { return id_; }
  /// Reads both outputs to their end and waits.
  Ended finish();

 private:
  pid_t id_ = -1;
  int out_ = -1;
  int err_ = -1;
  std::string read_;
};

/// `serve` on a free port over `data`; `address` without the closing slash.
class RunningShed {
 public:
  explicit RunningShed(const std::string& data, const std::vector<std::string>& more = {});

  const std::string& address() const { return address_; }
  /// Of its certificate; empty where it speaks plain HTTP.
  const std::string& fingerprint() const { return fingerprint_; }
  unsigned short port() const;
  Child& child() { return child_; }

 private:
  Child child_;
  std::string address_;
  std::string fingerprint_;
};

/// What a command of the shell prints, both outputs together.
std::string shell(const std::string& command);

/// One plain request over its own connection; the whole answer as it came.
std::string ask(unsigned short port, const std::string& request);
/// GET, with the status line and fields in front.
std::string get(unsigned short port, const std::string& target);
/// What follows the header.
std::string bodyOf(const std::string& response);

}  // namespace swardwalk::server
