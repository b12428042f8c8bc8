#include "server/tls/server_tls.h"

#include <openssl/err.h>
#include <openssl/pem.h>

#include <array>
#include <cstring>
#include <ctime>

#include "server/command/files.h"

namespace swardwalk::server {
namespace {

/// Only ciphers with forward secrecy and authenticated encryption. TLS 1.3 has no others.
constexpr const char* ciphersOfTls12 =
    "ECDHE-ECDSA-AES128-GCM-SHA256:ECDHE-RSA-AES128-GCM-SHA256:ECDHE-ECDSA-AES256-GCM-SHA384:"
    "ECDHE-RSA-AES256-GCM-SHA384:ECDHE-ECDSA-CHACHA20-POLY1305:ECDHE-RSA-CHACHA20-POLY1305";

constexpr std::array<unsigned char, 9> onlyHttp11{8, 'h', 't', 't', 'p', '/', '1', '.', '1'};

int chooseHttp11(SSL* /*connection*/, const unsigned char** chosen, unsigned char* size,
                 const unsigned char* offered, unsigned offeredSize, void* /*unused*/) {
  const int found =
      SSL_select_next_proto(const_cast<unsigned char**>(chosen), size, onlyHttp11.data(),
                            onlyHttp11.size(), offered, offeredSize);
  return found == OPENSSL_NPN_NEGOTIATED ? SSL_TLSEXT_ERR_OK : SSL_TLSEXT_ERR_NOACK;
}

void restrict(SSL_CTX& context) {
  SSL_CTX_set_min_proto_version(&context, TLS1_2_VERSION);
  SSL_CTX_set_cipher_list(&context, ciphersOfTls12);
  SSL_CTX_set_options(&context, SSL_OP_NO_RENEGOTIATION | SSL_OP_NO_COMPRESSION |
                                    SSL_OP_CIPHER_SERVER_PREFERENCE | SSL_OP_NO_TICKET);
  SSL_CTX_set_num_tickets(&context, 0);
  SSL_CTX_set_session_cache_mode(&context, SSL_SESS_CACHE_OFF);
  SSL_CTX_set_mode(&context, SSL_MODE_RELEASE_BUFFERS | SSL_MODE_ENABLE_PARTIAL_WRITE |
                                 SSL_MODE_ACCEPT_MOVING_WRITE_BUFFER);
  SSL_CTX_set_alpn_select_cb(&context, chooseHttp11, nullptr);
}

std::string dateOf(const ASN1_TIME& time) {
  std::tm parts{};
  if (ASN1_TIME_to_tm(&time, &parts) != 1) return "an unreadable date";
  std::array<char, 16> text{};
  std::strftime(text.data(), text.size(), "%Y-%m-%d", &parts);
  return text.data();
}

Result<void> checkDates(const X509& certificate, const CertificateFiles& files,
                        std::int64_t now_ms) {
  std::time_t now_s = now_ms / 1000;
  const ASN1_TIME& begin = *X509_get0_notBefore(&certificate);
  const ASN1_TIME& end = *X509_get0_notAfter(&certificate);
  if (X509_cmp_time(&begin, &now_s) > 0) {
    return fail(FailureKind::refused, files.certificate,
                "this certificate is valid from " + dateOf(begin) + " on only",
                "set this machine's clock, or give a certificate that is valid");
  }
  if (X509_cmp_time(&end, &now_s) < 0) {
    const bool own = files.certificate == files.key;
    return fail(FailureKind::refused, files.certificate,
                "this certificate was valid until " + dateOf(end),
                own ? "move the file away and start again: a new one is made, and every tablet "
                      "needs its fingerprint"
                    : "give one that is valid");
  }
  return {};
}

/// No word is asked for on a terminal: a server may have none.
int noPassword(char* /*into*/, int /*size*/, int /*writing*/, void* /*unused*/) { return -1; }

}  // namespace

Result<ServerTls> ServerTls::load(const CertificateFiles& files, std::int64_t now_ms) {
  for (const std::string& file : {files.certificate, files.key}) {
    // Says in words what the library would say in codes.
    if (auto there = readFile(file); !there) return tl::unexpected(there.error());
  }
  ServerTls tls(Openssl<SSL_CTX>(SSL_CTX_new(TLS_server_method())));
  SSL_CTX& context = tls.context();
  restrict(context);
  SSL_CTX_set_default_passwd_cb(&context, noPassword);
  ERR_clear_error();
  if (SSL_CTX_use_certificate_chain_file(&context, files.certificate.c_str()) != 1) {
    return fail(FailureKind::corrupt, files.certificate,
                "this is no certificate in PEM (" + opensslReason() + ")",
                "give the certificate with --certificate");
  }
  if (SSL_CTX_use_PrivateKey_file(&context, files.key.c_str(), SSL_FILETYPE_PEM) != 1 ||
      SSL_CTX_check_private_key(&context) != 1) {
    return fail(FailureKind::refused, files.key,
                "this is no key in PEM that belongs to the certificate (" + opensslReason() + ")",
                "give the certificate's own key, without a password, with --key");
  }
  const X509& certificate = *SSL_CTX_get0_certificate(&context);
  if (auto valid = checkDates(certificate, files, now_ms); !valid) {
    return tl::unexpected(valid.error());
  }
  tls.fingerprint_ = fingerprintOf(certificate);
  return tls;
}

}  // namespace swardwalk::server
