namespace Revisit.Simulator.Tests;

/// <summary>Files of the repository, found from where the tests run.</summary>
internal static class Repository
{
    /// <summary>Full path of a file or folder below the repository.</summary>
    public static string Path(string relative)
    {
        for (var at = new DirectoryInfo(AppContext.BaseDirectory); at is not null; at = at.Parent)
        {
            if (File.Exists(System.IO.Path.Combine(at.FullName, "Analytics.sln")))
            {
                return System.IO.Path.Combine(at.FullName, relative);
            }
        }

        throw new DirectoryNotFoundException("the tests do not run inside the repository");
    }
}
