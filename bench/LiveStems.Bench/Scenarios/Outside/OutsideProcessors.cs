namespace LiveStems.Bench.Scenarios.Outside;

/// <summary>What processors of others cost, inside the program and in a process of their own, and how fast they are replaced or passed by.</summary>
internal static class OutsideProcessors
{
    private const string Usage = "outside cost | soak [SECONDS] [PROCESSES] [FRAMES] | hang [ROUNDS] | replace [ROUNDS] | published [ROUNDS]";

    /// <summary>See <see cref="Usage"/>.</summary>
    public static void Run(string[] arguments)
    {
        int Number(int index, int otherwise) => arguments.Length > index ? int.Parse(arguments[index]) : otherwise;
        switch (arguments.FirstOrDefault())
        {
            case "cost":
                OutsideCost.Run(128);
                break;
            case "soak":
                OutsideSoak.Run(Number(1, 300), Number(2, 6), Number(3, 128));
                break;
            case "hang":
                OutsideHang.Run(Number(1, 5));
                break;
            case "replace":
                OutsideReplacement.Run(Number(1, 5));
                break;
            case "published":
                OutsidePublished.Run(Number(1, 3));
                break;
            default:
                Console.Error.WriteLine(Usage);
                break;
        }
    }
}
