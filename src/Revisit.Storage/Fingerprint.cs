using System.Security.Cryptography;
using System.Text;

namespace Revisit.Storage;

/// <summary>A short name for what something was made from.</summary>
public static class Fingerprint
{
    /// <summary>Thirty-two hexadecimal digits of the SHA-256 of the parts, in their order.</summary>
    public static string Of(IEnumerable<string> parts) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\n', parts))))[..32];
}
