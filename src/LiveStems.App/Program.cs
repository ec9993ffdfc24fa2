namespace LiveStems.App;

/// <summary>The executable: verbs and wiring only.</summary>
internal static class Program
{
    private static int Main()
    {
        Console.Error.WriteLine("livestems: no verbs yet");
        return 2;
    }
}
